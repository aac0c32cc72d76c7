import { describe, expect, it } from 'vitest';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { parsePitch } from '$lib/theory/pitch';
import { slantsByDefault } from '$lib/search/nutIndex';
import { fretsAhead, slantedGrips, stoppedBy } from '$lib/search/slants';
import { ask } from './asking';

/** String numbers, from 1, as a mask. */
const grip = (...strings: number[]): number =>
  strings.reduce((mask, string) => mask | (1 << (string - 1)), 0);

/** Millimetres from the nut to fret n: L · (1 − 2^(−n/12)), equal temperament. */
const mmOf = (fret: number, scaleMm: number): number => scaleMm * (1 - 2 ** (-fret / 12));
/** Cents above the open string where a string is stopped, by its sounding length. */
const centsAt = (mm: number, scaleMm: number): number => 1200 * Math.log2(scaleMm / (scaleMm - mm));

describe('where a slanted bar stops a string', () => {
  const cases = [-2, -1, 1, 2].flatMap((slant) =>
    [2, 5, 12, 19].flatMap((fret) =>
      [571.5, 610, 635].map((scale) => [slant, fret, scale] as const),
    ),
  );

  it.each(cases)(
    'far end %i ahead of fret %i on %f mm: on the straight line',
    (slant, fret, scale) => {
      const near = mmOf(fret, scale);
      const far = mmOf(fret + slant, scale);
      for (const share of [0, 0.25, 1 / 3, 0.5, 0.8, 1]) {
        const cents = centsAt(near + share * (far - near), scale);
        expect(100 * (fret + fretsAhead(slant, share))).toBeCloseTo(cents, 6);
      }
    },
  );

  it('half-way between two frets the string is between them, half-way across one it is on it', () => {
    // by the formula: 12 · log2(2 / (1 + 2^(∓1/12))) = 0.49 frets, out of tune; for two frets 0.97
    expect(fretsAhead(1, 0.5)).toBeCloseTo(0.49, 2);
    expect(fretsAhead(2, 0.5)).toBeCloseTo(0.97, 2);
  });
});

describe('which grips a slanted bar stops in tune (model, section 8)', () => {
  it('every two strings, by one fret and by two, both ways', () => {
    // C(n, 2) pairs, four slants
    expect(slantedGrips(6, [2, 2])).toHaveLength(15 * 4);
    expect(slantedGrips(8, [2, 2])).toHaveLength(28 * 4);
    expect(stoppedBy(grip(1, 4), 1)).toEqual([1, 0]);
    expect(stoppedBy(grip(2, 3), -2)).toEqual([-2, 0]);
  });

  it('three strings whose middle one lies half-way, by two frets only', () => {
    const three = slantedGrips(8, [3, 3]);
    for (let a = 1; a <= 6; a++)
      for (let m = a + 1; m <= 7; m++)
        for (let b = m + 1; b <= 8; b++) {
          const slants = three.filter((each) => each.grip === grip(a, m, b)).map((s) => s.slant);
          expect(
            slants.sort((x, y) => x - y),
            `${a}-${m}-${b}`,
          ).toEqual(m - a === b - m ? [-2, 2] : []);
        }
    expect(stoppedBy(grip(3, 4, 5), 2)).toEqual([2, 1, 0]);
    expect(stoppedBy(grip(1, 3, 5), -2)).toEqual([-2, -1, 0]);
  });

  it('no four strings of six or eight: two inner ones cannot both lie half-way', () => {
    expect(slantedGrips(6, [4, 6])).toEqual([]);
    expect(slantedGrips(8, [4, 6])).toEqual([]);
  });

  it('one string alone is never slanted', () => {
    expect(stoppedBy(grip(4), 1)).toBeUndefined();
    expect(slantedGrips(6, [1, 1])).toEqual([]);
  });
});

describe('slants', () => {
  it.each(BUILT_IN_IDS)('on %s are on by default exactly where there are no pedals', (id) => {
    const setup = builtIn(id);
    const pedals = setup.controls.some(({ station }) => /^P\d/.test(station));
    expect(slantsByDefault(setup)).toBe(!pedals);
  });

  it('are no other way to a voicing that the straight bar gives: frets tell them apart', () => {
    for (const { voicing } of ask(builtIn('lap6-c6'), 'Am', { sizes: [2, 3], slants: true }))
      expect(voicing.slant === 0).toBe(new Set(voicing.frets).size === 1);
  });

  // by hand on E4 C4 A3 G3 E3 C3: open pitch plus the fret at each string
  it.each([
    ['F', [3, 4, 5], [3, 2, 1], 'C4 A3 F3'],
    ['G#m', [2, 3, 4], [3, 2, 1], 'D#4 B3 G#3'],
    ['Gm', [1, 2, 3], [3, 2, 1], 'G4 D4 A#3'],
  ] as const)(
    'give %s on strings %j of the C6 lap steel at frets %j',
    (symbol, strings, frets, notes) => {
      const found = ask(builtIn('lap6-c6'), symbol, { strings, sizes: [3, 3], slants: true });
      const slanted = found.find(({ voicing }) => voicing.frets.join() === frets.join());
      expect(slanted?.voicing).toMatchObject({
        strings,
        slant: 2,
        fret: 1,
        pitches: notes.split(' ').map((note) => parsePitch(note)?.midi),
      });
      expect(slanted?.effort.terms.map(({ name }) => name)).toContain('slanted bar');
      const straight = ask(builtIn('lap6-c6'), symbol, { strings, sizes: [3, 3], slants: false });
      expect(straight.map(({ voicing }) => voicing.slant)).not.toContain(2);
    },
  );

  it('stay on the neck: between fret 1 and the last, and no slant at the nut', () => {
    const setup = builtIn('lap6-c6');
    // F over the open C is E + 1: there a slant at the nut would be found, if there were one
    for (const symbol of ['C', 'F', 'D', 'Am', 'Bb6', 'F#dim'])
      for (const { voicing } of ask(setup, symbol, { sizes: [2, 3], slants: true }))
        if (voicing.slant !== 0)
          for (const fret of voicing.frets) {
            expect(fret).toBeGreaterThanOrEqual(1);
            expect(fret).toBeLessThanOrEqual(setup.frets);
          }
  });

  it.each([
    ['C5', 0],
    ['F5', 5],
    ['Bb5', 10],
    ['F#5', 6],
  ] as const)(
    'are all found: every pair of strings and every slant that sounds %s',
    (symbol, root) => {
      const setup = builtIn('lap6-c6');
      const opens = 'E4 C4 A3 G3 E3 C3'.split(' ').map((note) => parsePitch(note)?.midi ?? NaN);
      const expected: string[] = [];
      for (let a = 1; a <= 6; a++)
        for (let b = a + 1; b <= 6; b++)
          for (let far = 1; far <= 24; far++)
            for (let near = 1; near <= 24; near++) {
              if (far === near || Math.abs(far - near) > 2) continue;
              const sounds = [(opens[a - 1] ?? 0) + far, (opens[b - 1] ?? 0) + near].map(
                (p) => p % 12,
              );
              if (sounds.includes(root) && sounds.includes((root + 7) % 12))
                expected.push(`${a}-${b} ${far}-${near}`);
            }
      const found = ask(setup, symbol, { sizes: [2, 2], slants: true })
        .filter(({ voicing }) => voicing.slant !== 0)
        .map(({ voicing }) => `${voicing.strings.join('-')} ${voicing.frets.join('-')}`);
      expect(found.sort()).toEqual(expected.sort());
    },
  );
});
