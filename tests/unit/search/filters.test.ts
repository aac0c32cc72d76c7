import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import type { Voicing } from '$lib/search/voicing';
import type { Question } from '$lib/answers/question';
import { runs } from '../../battery';
import { smallSetup } from '../../property/generators';
import { ask, wholeOf } from './asking';

const low = ({ pitches }: Voicing): number => Math.min(...pitches);
const high = ({ pitches }: Voicing): number => Math.max(...pitches);

/** Each filter of a question, and the same said of a single voicing. */
const FILTERS: readonly [
  name: string,
  asked: Partial<Question>,
  keeps: (voicing: Voicing) => boolean,
][] = [
  ['sizes', { sizes: [3, 3] }, ({ strings }) => strings.length === 3],
  ['sizes 2', { sizes: [2, 2] }, ({ strings }) => strings.length === 2],
  [
    'grip',
    { strings: [2, 3, 5, 6] },
    ({ strings }) => strings.every((string) => [2, 3, 5, 6].includes(string)),
  ],
  ['top', { top: { midi: 64 } }, (voicing) => high(voicing) === 64],
  ['top in any octave', { top: { chroma: 4 } }, (voicing) => high(voicing) % 12 === 4],
  ['bass', { bass: { midi: 52 } }, (voicing) => low(voicing) === 52],
  ['bass in any octave', { bass: { chroma: 0 } }, (voicing) => low(voicing) % 12 === 0],
  ['frets', { frets: [2, 4] }, ({ frets }) => frets.every((fret) => fret >= 2 && fret <= 4)],
  ['one fret', { frets: [12, 12] }, ({ frets }) => frets.every((fret) => fret === 12)],
  ['the first neck', { necks: [1] }, ({ neck }) => neck === 1],
  [
    'several at once',
    { frets: [0, 4], sizes: [3, 4], top: { chroma: 0 }, bass: { chroma: 4 } },
    (voicing) =>
      voicing.frets.every((fret) => fret <= 4) &&
      voicing.strings.length >= 3 &&
      high(voicing) % 12 === 0 &&
      low(voicing) % 12 === 4,
  ],
];

/** What is asked without a filter, and what comes of it for the built-in setups, each of which all filters ask. */
const ALL = { sizes: [2, 4], match: 'rootless' } as const;
const ofBuiltIns = new Map<string, readonly Voicing[]>();
const voicingsOf = (setup: Setup, symbol: string, besides: Partial<Question>): Voicing[] =>
  ask(setup, symbol, { ...ALL, ...besides }).map(({ voicing }) => voicing);

function agree(
  setup: Setup,
  symbol: string,
  slants: boolean,
  asked: Partial<Question>,
  keeps: (voicing: Voicing) => boolean,
  all: readonly Voicing[] = voicingsOf(setup, symbol, { slants }),
): number {
  const filtered = voicingsOf(setup, symbol, { slants, ...asked }).map(wholeOf);
  // the same voicings with the same ways in the same order
  expect(filtered).toEqual(all.filter(keeps).map(wholeOf));
  return filtered.length;
}

describe.each(FILTERS)(
  'asking with %s is asking without and leaving out the rest',
  (name, asked, keeps) => {
    it.each(['e9', 'double', 'lap8-c6'] as const)('on %s', (id) => {
      const slants = id === 'lap8-c6';
      const all = ofBuiltIns.get(id) ?? voicingsOf(builtIn(id), 'C', { slants });
      ofBuiltIns.set(id, all);
      const found = agree(builtIn(id), 'C', slants, asked, keeps, all);
      expect(found, name).toBeGreaterThan(0);
    });

    it('on random setups', () => {
      const chords = fc.constantFrom('C', 'Am7', 'E5', 'G/B');
      fc.assert(
        fc.property(smallSetup, chords, fc.boolean(), (setup, symbol, slants) => {
          agree({ ...setup, frets: 12 }, symbol, slants, asked, keeps);
        }),
        { numRuns: runs(10, 600) },
      );
    });
  },
);

describe('asking without some controls', () => {
  /** What is left of a list when some controls are not used: voicings with another way, by it. */
  const leftOf = (setup: Setup, symbol: string, without: readonly string[]): string[] =>
    ask(setup, symbol, { sizes: [2, 4] })
      .map(({ voicing }) => ({
        ...voicing,
        ways: voicing.ways.filter((way) => !way.some(({ id }) => without.includes(id))),
      }))
      .filter(({ ways }) => ways.length > 0)
      .map(wholeOf)
      .sort();
  const asked = (setup: Setup, symbol: string, without: readonly string[]): string[] =>
    ask(setup, symbol, { sizes: [2, 4], without })
      .map(({ voicing }) => wholeOf(voicing))
      .sort();

  it.each([['A'], ['A,RKL'], ['LKL,LKR,LKV'], ['A,B,C,LKL,LKR,LKV,RKL,RKR']])(
    'on E9 without %s leaves the voicings that have another way, with those ways',
    (ids) => {
      const without = ids.split(',');
      const left = asked(builtIn('e9'), 'A', without);
      expect(left.length).toBeGreaterThan(0);
      expect(left).toEqual(leftOf(builtIn('e9'), 'A', without));
    },
  );

  it('on random setups', () => {
    fc.assert(
      fc.property(
        smallSetup,
        fc.constantFrom('C', 'Am7', 'E5'),
        fc.nat(),
        (setup, symbol, bits) => {
          const without = setup.controls.map(({ id }) => id).filter((_, i) => bits & (1 << i));
          expect(asked(setup, symbol, without)).toEqual(leftOf(setup, symbol, without));
        },
      ),
    );
  });

  it('does not close the gap between the pedals that remain', () => {
    // C6 has P4 to P8; without P6 the foot cannot hold P5 and P7
    for (const { voicing } of ask(builtIn('c6'), 'Bm', { without: ['P6'], match: 'rootless' }))
      for (const way of voicing.ways)
        expect(way.map(({ id }) => id)).not.toEqual(expect.arrayContaining(['P5', 'P7']));
  });
});
