import { describe, expect, it } from 'vitest';
import { actionsOf } from '$lib/rendering/actions';
import {
  BASS,
  RINGS,
  heldOn,
  lengthOf,
  notesOf,
  slideSeconds,
  struckAs,
  withBass,
} from '$lib/playing/schedule';

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

describe('what hands have moved while it rings', () => {
  const note = { string: 5, midi: 59, at: 0, duration: 3 };

  it('is held on', () => {
    expect(heldOn([note], new Set([5]), 2)[0]?.duration).toBe(2 + RINGS);
  });

  it('but not what has ended, is struck again, or was not moved', () => {
    const again = { ...note, at: 3, duration: 9 };
    expect(heldOn([note], new Set([5]), 3.5)).toEqual([note]);
    expect(heldOn([note], new Set([4]), 2)).toEqual([note]);
    expect(heldOn([note, again], new Set([5]), 2)).toEqual([note, again]);
  });
});

describe('a soft bass', () => {
  it.each([
    // chord tones low to high, the root's chroma, the bass: the next root below, E1 (28) at the lowest
    [[64, 67, 72], 0, 60],
    [[60, 64, 67], 0, 48],
    [[55, 59, 62], 0, 48],
    [[52, 56, 59], 4, 40],
    [[35, 42], 11, undefined],
    [[38, 45], 4, 28],
  ])('under %j with the root %i is %s', (chord, root, bass) => {
    const pitches = chord.map((midi, place) => ({ string: 10 - place, midi }));
    const added = withBass(pitches, root).filter(({ string }) => string === BASS);
    expect(added.map(({ midi }) => midi)).toEqual(bass === undefined ? [] : [bass]);
  });

  it('is softer than the strings, and no palm harmonic', () => {
    const notes = struckAs(notesOf(withBass(GRIP, 0), 'together'), { harmonics: true });
    const [bass] = notes.filter(({ string }) => string === BASS);
    expect(bass?.level).toBeLessThan(1);
    expect(bass?.harmonic).toBeUndefined();
    expect(notes.filter(({ harmonic }) => harmonic)).toHaveLength(3);
  });
});

describe('the actions of a schedule', () => {
  it('come in order of time, and what ends comes before what begins with it', () => {
    const notes = [
      { string: 1, midi: 60, at: 1, duration: 1 },
      { string: 1, midi: 62, at: 0, duration: 1, glides: [{ at: 0.5, over: 0.1, to: 64 }] },
    ];
    const actions = actionsOf(notes, { referenceHz: 440 }).filter(({ does }) =>
      ['strike', 'damp', 'glide'].includes(does),
    );
    expect(actions.map(({ does, at }) => [does, at])).toEqual([
      ['strike', 0],
      ['glide', 0.5],
      ['damp', 1],
      ['strike', 1],
      ['damp', 2],
    ]);
  });

  it('close the volume pedal before each grip that swells', () => {
    const first = notesOf(GRIP, 'rolled');
    const notes = [...first, ...first.map((note) => ({ ...note, at: note.at + 5 }))];
    const actions = actionsOf(notes, { referenceHz: 440, swell: true });
    const strokes = actions.filter(({ does }) => does === 'strike').map(({ at }) => at);
    const closings = actions.filter((each) => each.does === 'pedal' && each.to === 0);
    expect(closings).toHaveLength(2);
    for (const [grip, stroke] of [strokes[0], strokes[3]].entries())
      expect(closings[grip]?.at).toBeLessThan(stroke ?? 0);
  });
});

it('the bar takes longer over a longer way, but never long', () => {
  expect(slideSeconds(0, 0.09)).toBeCloseTo(0.09);
  expect(slideSeconds(5, 0.09)).toBeGreaterThan(slideSeconds(1, 0.09));
  expect(slideSeconds(24, 0.12)).toBeLessThanOrEqual(0.6);
});
