/** The solver against every way there is, laid out one by one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Chord } from '$lib/theory/chord';
import { readChord } from '$lib/theory/readChord';
import { combinationCount } from '$lib/setup/reach';
import type { Engaged, Setup } from '$lib/setup/setup';
import { barTerms } from '$lib/effort/bar';
import { effortOf } from '$lib/effort/effort';
import { feetTerms } from '$lib/effort/feet';
import { moveBetween, moveFromHome, type SoundingHold } from '$lib/effort/move';
import { pickingTerms } from '$lib/effort/picking';
import { EVEN_WAY, type WayBalance } from '$lib/effort/weights';
import { arrange, prepareAll } from '$lib/arrange/arrange';
import { bestWays } from '$lib/arrange/bestWays';
import { moveCosts } from '$lib/arrange/moveCosts';
import type { Progression } from '$lib/arrange/progression';
import { noWishes, type Wishes } from '$lib/arrange/wishes';
import { runs } from '../battery';
import { smallSetup } from './generators';
import { plainSearch, plainSets } from './plainSearch';

const chordOf = (symbol: string): Chord => {
  const read = readChord(symbol);
  if (!read.ok || read.value === 'no chord') throw new Error(symbol);
  return read.value;
};
const progressionOf = (symbols: readonly string[]): Progression => ({
  bars: symbols.map((symbol) => ({ slots: [{ chord: chordOf(symbol), share: 1 }] })),
});

interface PlainCandidate {
  readonly hold: SoundingHold;
  readonly effort: number;
}

const engagedOf = (way: string): Engaged[] =>
  way
    .split(' ')
    .filter(Boolean)
    .map((word) => {
      const [id = '', half] = word.split(':');
      return { id, state: half === undefined ? 'full' : 'half' };
    });

/** Every voicing of a chord in every way, by the plain search. */
function plainCandidates(setup: Setup, chord: Chord, wishes: Wishes): PlainCandidate[] {
  return setup.necks.flatMap((on, place) => {
    const neck = place + 1;
    const [found = []] = plainSearch(
      setup,
      { neck, frets: wishes.frets ?? [0, setup.frets], sizes: wishes.sizes },
      [{ sets: plainSets(chord, 'lean') }],
    );
    return found.flatMap(({ fret, strings, pitches, ways }) =>
      ways.map((way) => {
        const engaged = engagedOf(way);
        const terms = [
          ...feetTerms(setup, engaged),
          ...pickingTerms(on, strings),
          ...barTerms(setup, fret, undefined, 0),
        ];
        return {
          hold: { neck, fret, slant: 0, strings, pitches, engaged },
          effort: effortOf(terms, wishes.balance).total,
        };
      }),
    );
  });
}

const thousandths = (value: number): number => Math.round(value * 1000);
const textOf = ({ neck, fret, strings, engaged }: SoundingHold): string =>
  `${neck}/${fret}/${strings.join('-')}/${engaged
    .map(({ id, state }) => id + state)
    .sort()
    .join('+')}`;

/** Every way through, as its cost and its text. */
function everyWay(
  setup: Setup,
  layers: readonly (readonly PlainCandidate[])[],
  wishes: Wishes,
): { cost: number; text: string }[] {
  let ways: { cost: number; text: string; last?: SoundingHold }[] = [{ cost: 0, text: '' }];
  for (const layer of layers)
    ways = ways.flatMap(({ cost, text, last }) =>
      layer.map(({ hold, effort }) => {
        const move =
          last !== undefined
            ? moveBetween(setup, last, hold, wishes.balance).total
            : wishes.home === undefined
              ? 0
              : moveFromHome(setup, wishes.home, hold, wishes.balance).total;
        return {
          cost: cost + thousandths(effort) + thousandths(move),
          text: `${text} ${textOf(hold)}`,
          last: hold,
        };
      }),
    );
  return ways.sort((a, b) => a.cost - b.cost);
}

const balances: fc.Arbitrary<WayBalance> = fc.constantFrom(
  EVEN_WAY,
  { feet: 0.1, picking: 1, bar: 3, voices: 2 },
  { feet: 2, picking: 0, bar: 0.3, voices: 0 },
);
const symbols = fc.constantFrom('C', 'Am', 'F', 'G7', 'Dm7', 'E', 'Bdim', 'C5', 'Fmaj7', 'Asus4');

describe('the best ways', () => {
  it('are those of a plain search over all ways: totals, and what they are', () => {
    let compared = 0;
    fc.assert(
      fc.property(
        smallSetup,
        fc.array(symbols, { minLength: 1, maxLength: 3 }),
        balances,
        fc.option(fc.integer({ min: 0, max: 3 }), { nil: undefined }),
        fc.integer({ min: 1, max: 20 }),
        (setup, chords, balance, home, most) => {
          const wishes: Wishes = {
            ...noWishes(false),
            sizes: [2, 3],
            match: 'lean',
            balance,
            ...(home === undefined ? {} : { home: Math.min(home, setup.frets) }),
          };
          const progression = progressionOf(chords);
          const layers = chords
            .map((symbol) => plainCandidates(setup, chordOf(symbol), wishes))
            .filter((layer) => layer.length > 0);
          fc.pre(layers.length > 0);
          fc.pre(layers.reduce((product, { length }) => product * length, 1) <= 20_000);
          const plain = everyWay(setup, layers, wishes);
          const found = arrange(setup, progression, wishes, most).ways;
          expect(found.map(({ total }) => thousandths(total))).toEqual(
            plain.slice(0, most).map(({ cost }) => cost),
          );
          // which they are: each is one of those that cost as much, and none comes twice
          const texts = found.map(({ steps }) =>
            steps.map(({ hold }) => ` ${textOf(hold)}`).join(''),
          );
          expect(new Set(texts).size).toBe(texts.length);
          found.forEach(({ total }, place) => {
            const level = plain.filter(({ cost }) => cost === thousandths(total));
            expect(level.map(({ text }) => text)).toContain(texts[place]);
          });
          compared++;
        },
      ),
      { numRuns: runs(150) },
    );
    expect(compared).toBeGreaterThan(50);
  });

  it('come in the order of cost, then of their candidates, first to last', () => {
    fc.assert(
      fc.property(
        smallSetup,
        fc.array(symbols, { minLength: 1, maxLength: 3 }),
        (setup, chords) => {
          const wishes: Wishes = { ...noWishes(false), sizes: [2, 3], match: 'lean' };
          const layers = prepareAll(setup, progressionOf(chords), wishes)
            .map(({ layer }) => layer)
            .filter(({ count }) => count > 0);
          const product = layers.reduce((all, { count }) => all * count, 1);
          fc.pre(layers.length > 0 && product <= 20_000);
          const costs = moveCosts(setup, EVEN_WAY, combinationCount(setup));
          const few = bestWays({ layers, costs, most: 12 });
          const all = bestWays({ layers, costs, most: product });
          expect(all).toHaveLength(product);
          expect(few).toEqual(all.slice(0, 12));
          const keys = all.map(({ cost, candidates }) => [cost, ...candidates]);
          const inOrder = [...keys].sort((a, b) => {
            const apart = a.findIndex((value, i) => value !== b[i]);
            return apart < 0 ? 0 : (a[apart] ?? 0) - (b[apart] ?? 0);
          });
          expect(keys).toEqual(inOrder);
        },
      ),
      { numRuns: runs(100) },
    );
  });
});
