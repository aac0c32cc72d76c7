import { describe, expect, it } from 'vitest';
import { spokenString } from '$lib/ui/neck/spokenString';
import { fretByKey } from '$lib/ui/neck/touch';

describe('keys on the bar', () => {
  it.each([
    ['ArrowRight', 8, 9],
    ['ArrowUp', 8, 9],
    ['ArrowLeft', 8, 7],
    ['ArrowDown', 0, 0],
    ['PageUp', 8, 13],
    ['PageUp', 22, 24],
    ['PageDown', 3, 0],
    ['Home', 8, 0],
    ['End', 8, 24],
    ['Enter', 8, undefined],
  ])('%s from fret %i leads to %s', (key, from, to) => {
    expect(fretByKey(key, from, 24)).toBe(to);
  });
});

describe('a string in words', () => {
  const string = { number: 5, open: 'B3', spokenOpen: 'B 3', picked: true };

  it('says what it is and what it sounds', () => {
    const tone = { text: '3', colour: 'third', spoken: 'third, E 4' } as const;
    expect(spokenString({ ...string, tone })).toBe('String 5, B 3, sounds third, E 4');
  });

  it('says how it is pulled', () => {
    const pull = { semitones: -1, text: '−1', half: true };
    expect(spokenString({ ...string, pull })).toBe('String 5, B 3, lowered 1 semitone, half-stop');
  });
});
