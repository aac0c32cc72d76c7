import { describe, expect, it } from 'vitest';
import { lengthOf, notesOf } from '$lib/sound/schedule';

const GRIP = [
  { string: 3, midi: 76 },
  { string: 4, midi: 72 },
  { string: 5, midi: 67 },
];

describe('a grip is struck', () => {
  it('all at once when played together', () => {
    expect(notesOf(GRIP, 'together').map(({ at }) => at)).toEqual([0, 0, 0]);
  });

  it('from the lowest pitch to the highest, one after another', () => {
    for (const manner of ['rolled', 'one by one'] as const) {
      const notes = notesOf(GRIP, manner);
      expect(notes.map(({ midi }) => midi)).toEqual([67, 72, 76]);
      const times = notes.map(({ at }) => at);
      expect(times).toEqual([...times].sort((a, b) => a - b));
      expect(new Set(times).size).toBe(3);
    }
  });

  it('and damped on all strings at the same moment', () => {
    const notes = notesOf(GRIP, 'one by one');
    const ends = notes.map(({ at, duration }) => at + duration);
    expect(ends.every((end) => Math.abs(end - lengthOf(notes)) < 1e-9)).toBe(true);
  });

  it('without strings there is nothing', () => {
    expect(notesOf([], 'rolled')).toEqual([]);
    expect(lengthOf([])).toBe(0);
  });
});
