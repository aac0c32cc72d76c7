/** How strings are reached, and in which order a player would rather reach them. */
import { describe, expect, it } from 'vitest';
import { handedStrings } from '$lib/setup/sounding';
import { builtIn } from '$lib/setup/builtIns';
import { engagingTerms } from '$lib/effort/engaging';
import { barMoveTerms, feetMoveTerms, type SoundingHold } from '$lib/effort/move';
import { reachTerms, reachedFrom, type Wanted } from '$lib/effort/reaching';

const E9 = builtIn('e9');
const AFTER: Wanted = { joined: true, melody: 'begins', between: false, seconds: 0.6 };
/** String, pitch; at a fret with controls. */
const hold = (fret: number, controls: string, ...sounds: [number, number][]): SoundingHold => ({
  neck: 1,
  fret,
  slant: 0,
  strings: sounds.map(([string]) => string),
  pitches: sounds.map(([, pitch]) => pitch),
  engaged: controls === '' ? [] : [{ id: controls, state: 'full' }],
});
const B5: [number, number] = [5, 64];

describe('a string is', () => {
  it.each([
    ['picked where it was not there', hold(5, '', [4, 69]), 'picked'],
    ['pulled where the bar stays', hold(5, 'A', [5, 66]), 'pull'],
    ['slid to where its frets go along', hold(7, '', [5, 66]), 'slide'],
    ['slid over four frets', hold(9, '', [5, 68]), 'slide'],
    ['picked beyond four frets', hold(10, '', [5, 69]), 'picked'],
    ['picked where bar and control both change it', hold(7, 'A', [5, 68]), 'picked'],
    ['picked where the same note begins again', hold(5, '', B5), 'picked'],
  ] as const)('%s', (_, to, reached) => {
    expect(reachedFrom(hold(5, '', B5), to, AFTER)).toEqual([reached]);
  });

  // strings 4 under the one lever of a knee and under the other: F and D#
  it('struck anew where one control hands it to another, and pulled where one of them alone does the work', () => {
    const [low, high] = [hold(5, 'LKR', [4, 68]), hold(5, 'LKL', [4, 70])];
    const handed = handedStrings(E9, 1, low.engaged, high.engaged);
    // both move the fourth string and the eighth
    expect(handed).toBe(0b10001000);
    expect(reachedFrom(low, high, AFTER, handed)).toEqual(['picked']);
    const open = hold(5, '', [4, 69]);
    expect(handedStrings(E9, 1, low.engaged, open.engaged)).toBe(0);
    expect(reachedFrom(low, open, AFTER, 0)).toEqual(['pull']);
    // A and C raise the fifth string alike: taken over, it does not move
    expect(
      reachedFrom(hold(5, 'A', [5, 66]), hold(5, 'C', [5, 66]), { ...AFTER, melody: 'lasts' }, 16),
    ).toEqual(['rings']);
  });

  it('picked where nothing was before, on another neck, and under a bar that is turned', () => {
    const [from, slanted] = [hold(5, '', B5), { ...hold(5, '', B5), slant: 1 }];
    const to = hold(7, '', [5, 66]);
    expect(reachedFrom(undefined, from, AFTER)).toEqual(['picked']);
    expect(reachedFrom(from, { ...from, neck: 2 }, { ...AFTER, melody: 'lasts' })).toEqual([
      'picked',
    ]);
    expect(reachedFrom(from, to, AFTER)).toEqual(['slide']);
    expect(reachedFrom(slanted, to, AFTER)).toEqual(['picked']);
    expect(reachedFrom(from, { ...to, slant: 1 }, AFTER)).toEqual(['picked']);
    expect(reachedFrom(from, slanted, { ...AFTER, melody: 'lasts' })).toEqual(['picked']);
  });

  it('ringing where the tune rests', () => {
    expect(reachedFrom(hold(5, '', B5), hold(5, '', B5), { ...AFTER, melody: 'rests' })).toEqual([
      'rings',
    ]);
  });

  it('picked after a rest, however near', () => {
    expect(
      reachedFrom(hold(5, '', B5), hold(5, 'A', [5, 66]), { ...AFTER, joined: false }),
    ).toEqual(['picked']);
  });

  it('ringing where it is not the tune that begins, or the tune lasts', () => {
    const chord = hold(5, '', [4, 69], B5);
    expect(reachedFrom(hold(5, '', B5), chord, AFTER)).toEqual(['picked', 'rings']);
    expect(reachedFrom(hold(5, '', B5), hold(5, '', B5), { ...AFTER, melody: 'lasts' })).toEqual([
      'rings',
    ]);
  });
});

describe('what the hand does is told by name, each with its weight', () => {
  const one = hold(5, '', B5);
  const three = hold(5, '', [4, 69], B5, [6, 61]);
  const told = (from: SoundingHold, to: SoundingHold, wanted: Partial<Wanted> = {}): string =>
    reachTerms(from, to, { ...AFTER, ...wanted })
      .map(({ part, name, value }) => `${part}: ${name} ${value.toFixed(2)}`)
      .join(', ');
  const STROKE = 'picking: a stroke 1.50';

  it('strokes, and strings that it was not at', () => {
    expect(told(one, one)).toBe(STROKE);
    expect(told(one, hold(5, '', [4, 69]))).toBe(`${STROKE}, picking: another string 0.20`);
    expect(told(one, hold(5, '', [3, 73], [4, 69]))).toBe(
      `${STROKE}, picking: 2 other strings 0.40`,
    );
    // on another neck it was at none
    expect(told(one, { ...one, neck: 2 })).toBe(`${STROKE}, picking: another string 0.20`);
  });

  it('slides and pulls, the wide ones dearer', () => {
    expect(told(one, hold(7, '', [5, 66]))).toBe('picking: a slide 0.40');
    expect(told(one, hold(9, '', [5, 68]))).toBe(
      'picking: a slide 0.40, picking: over 4 frets 0.80',
    );
    expect(told(one, hold(5, 'A', [5, 66]))).toBe('');
    expect(told(one, hold(5, 'A', [5, 67]))).toBe('picking: a pull of 3 semitones 1.00');
    expect(told(hold(5, 'A', [5, 68]), one)).toBe('picking: a pull of 4 semitones 2.00');
  });

  it('fingers that are asked twice before they are ready', () => {
    const twice = (from: SoundingHold, to: SoundingHold, seconds: number): string | undefined =>
      /the same finger at once ([\d.]+)/.exec(told(from, to, { seconds }))?.[1];
    expect(twice(one, one, 0.14)).toBe('0.80');
    expect(twice(one, one, 0.15)).toBeUndefined();
    expect(twice(one, hold(5, '', [4, 69]), 0.14)).toBeUndefined();
    // three fingers are at work: a fourth string waits for one of them
    expect(twice(three, hold(5, '', [3, 73]), 0.14)).toBe('0.80');
    expect(twice(hold(5, '', [4, 69], B5), hold(5, '', [2, 68], [3, 73]), 0.14)).toBe('0.80');
    // one that rings on asks for none
    expect(twice(three, hold(5, '', [3, 73], [4, 69]), 0.14)).toBe('0.80');
    // one of the three once more, and a fourth
    expect(twice(three, hold(7, '', [3, 75], [4, 72]), 0.14)).toBe('1.60');
  });

  it('a bar that leaves the chord which should ring on', () => {
    const away = hold(7, '', [5, 66]);
    const leaves = (to: SoundingHold, wanted: Partial<Wanted>): boolean =>
      told(one, to, wanted).includes('picking: the bar leaves the chord 1.00');
    expect(leaves(away, { between: true })).toBe(true);
    expect(leaves({ ...one, slant: 1 }, { between: true })).toBe(true);
    expect(leaves({ ...one, neck: 2 }, { between: true })).toBe(true);
    expect(leaves(one, { between: true })).toBe(false);
    expect(leaves(away, { between: true, joined: false })).toBe(false);
    expect(leaves(away, {})).toBe(false);
  });

  it('a note of the tune that lasts and is struck again', () => {
    const again = (to: SoundingHold, melody: Wanted['melody']): boolean =>
      told(one, to, { melody }).includes('picking: a lasting note struck again 2.00');
    // on another string, for the bar goes where this one would sound otherwise
    const elsewhere = hold(0, '', [4, 64]);
    expect(again(elsewhere, 'lasts')).toBe(true);
    expect(again(elsewhere, 'begins')).toBe(false);
    expect(again(elsewhere, 'rests')).toBe(false);
    expect(again(one, 'lasts')).toBe(false);
    // the tune is what sounds highest: it rings on over a string that is struck
    expect(again(hold(5, '', B5, [6, 61]), 'lasts')).toBe(false);
    expect(again(hold(5, '', [4, 69], B5), 'lasts')).toBe(true);
  });
});

describe('prices', () => {
  const cost = (to: SoundingHold, wanted = AFTER): number =>
    [
      ...engagingTerms(E9, [], to.engaged),
      ...barMoveTerms(E9, hold(5, '', B5), to, wanted.seconds),
      ...feetMoveTerms(E9, hold(5, '', B5), to),
      ...reachTerms(hold(5, '', B5), to, wanted),
    ].reduce((sum, { value }) => sum + value, 0);
  const unhurried = { ...AFTER, seconds: 1 };

  it('go from a pull to a slide of a fret, of two, and a stroke: the contract', () => {
    const pull = cost(hold(5, 'A', [5, 66]), unhurried);
    const slide = cost(hold(6, '', [5, 65]), unhurried);
    const two = cost(hold(7, '', [5, 66]), unhurried);
    const stroke = cost(hold(5, '', [4, 69]), unhurried);
    expect([pull, slide, two, stroke]).toEqual([pull, slide, two, stroke].sort((a, b) => a - b));
    expect(new Set([pull, slide, two, stroke]).size).toBe(4);
  });

  it('rise with the frets of a slide, and with the hurry', () => {
    const slide = (frets: number, seconds = 1): number =>
      cost(hold(5 + frets, '', [5, 64 + frets]), { ...AFTER, seconds });
    expect(slide(3)).toBeGreaterThan(slide(2) + 0.4);
    expect(slide(2, 0.25)).toBeGreaterThan(slide(2));
  });

  it('rise where a finger is asked twice within 150 ms, and not where another is free', () => {
    const again = hold(5, '', B5);
    const other = hold(5, '', [4, 69]);
    const quick = { ...AFTER, seconds: 0.12 };
    expect(cost(again, quick)).toBeGreaterThan(cost(again));
    expect(cost(other, quick)).toBe(cost(other));
  });
});
