/** The solver against every way there is, laid out one by one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Chord } from '$lib/theory/chord';
import { readChord } from '$lib/theory/readChord';
import { combinations } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { effortOf } from '$lib/effort/effort';
import { engagingTerms } from '$lib/effort/engaging';
import { moveBetween, moveFromHome, type SoundingHold } from '$lib/effort/move';
import { EVEN_WAY, type WayBalance } from '$lib/effort/weights';
import { arrange, prepareAll, stageFor } from '$lib/arrange/arrange';
import { bestWays } from '$lib/arrange/bestWays';
import { moveCosts } from '$lib/arrange/moveCosts';
import type { Progression } from '$lib/arrange/progression';
import { noWishes, type Wishes } from '$lib/arrange/wishes';
import { runs } from '../battery';
import { LONG } from '../seed';
import { smallSetup } from './generators';
import { codeOf, holdsAfter } from './plainHolds';
import { plainCandidates, type PlainCandidate } from './plainCandidates';

const chordOf = (symbol: string): Chord => {
  const read = readChord(symbol);
  if (!read.ok || read.value === 'no chord') throw new Error(symbol);
  return read.value;
};
const progressionOf = (symbols: readonly string[], tempo = 100): Progression => ({
  tempo,
  bars: symbols.map((symbol) => ({ slots: [{ chord: chordOf(symbol), share: 1 }] })),
});

/** Ways of a piece that are laid out one by one, at most. */
const MOST = LONG ? 20_000 : 3_000;

const thousandths = (value: number): number => Math.round(value * 1000);
const textOf = ({ neck, fret, strings, engaged }: SoundingHold): string =>
  `${neck}/${fret}/${strings.join('-')}/${engaged
    .map(({ id, state }) => id + state)
    .sort()
    .join('+')}`;

/** Every way through, as its least cost over all that may stay engaged, and its text. */
function everyWay(
  setup: Setup,
  layers: readonly (readonly PlainCandidate[])[],
  wishes: Wishes,
  begins: readonly number[],
): { cost: number; text: string }[] {
  const reachable = new Set([...combinations(setup)].map(codeOf));
  let ways: { cost: number; text: string; last?: SoundingHold }[] = [{ cost: 0, text: '' }];
  layers.forEach((layer, at) => {
    const seconds = (begins[at] ?? 0) - (begins[at - 1] ?? 0);
    ways = ways.flatMap(({ cost, text, last }) =>
      layer.flatMap(({ hold: needs, terms }) =>
        holdsAfter(setup, reachable, last, needs).map((hold) => {
          const engaging = engagingTerms(setup, last?.engaged ?? [], needs.engaged);
          const effort = effortOf([...engaging, ...terms], wishes.balance).total;
          const move =
            last !== undefined
              ? moveBetween(setup, last, hold, wishes.balance, seconds).total
              : wishes.home === undefined
                ? 0
                : moveFromHome(setup, wishes.home, hold, wishes.balance).total;
          return {
            cost: cost + thousandths(effort) + thousandths(move),
            text: `${text} ${textOf(needs)}`,
            last: hold,
          };
        }),
      ),
    );
  });
  // what stays engaged besides is nothing that anybody hears: such ways are one
  const least = new Map<string, number>();
  for (const { cost, text } of ways) least.set(text, Math.min(cost, least.get(text) ?? Infinity));
  return [...least].map(([text, cost]) => ({ cost, text })).sort((a, b) => a.cost - b.cost);
}

const balances: fc.Arbitrary<WayBalance> = fc.constantFrom(
  EVEN_WAY,
  { feet: 0.1, picking: 1, bar: 3, clarity: 0.5, voices: 2 },
  { feet: 2, picking: 0, bar: 0.3, clarity: 0, voices: 0 },
);
const symbols = fc.constantFrom('C', 'Am', 'F', 'G7', 'Dm7', 'E', 'Bdim', 'C5', 'Fmaj7', 'Asus4');

describe('the best ways', () => {
  it('are those of a plain search over all ways: totals, and what they are', () => {
    let compared = 0;
    fc.assert(
      fc.property(
        smallSetup,
        fc.array(symbols, { minLength: 1, maxLength: 4 }),
        balances,
        fc.option(fc.integer({ min: 0, max: 3 }), { nil: undefined }),
        fc.integer({ min: 1, max: 20 }),
        fc.constantFrom(60, 200, 300, 400),
        (setup, chords, balance, home, most, tempo) => {
          const wishes: Wishes = {
            ...noWishes(false),
            sizes: [2, 3],
            match: 'lean',
            balance,
            ...(home === undefined ? {} : { home: Math.min(home, setup.frets) }),
          };
          const progression = progressionOf(chords, tempo);
          const all = chords.map((symbol) => plainCandidates(setup, chordOf(symbol), wishes));
          const layers = all.filter((layer) => layer.length > 0);
          // a chord that cannot be played gives its time to the move over it; four quarters to a bar
          const begins = all.flatMap((layer, bar) =>
            layer.length > 0 ? [(bar * 4 * 60) / tempo] : [],
          );
          fc.pre(layers.length > 0);
          fc.pre(layers.reduce((product, { length }) => product * length, 1) <= MOST);
          const plain = everyWay(setup, layers, wishes, begins);
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
      { numRuns: runs(40, 1500) },
    );
    expect(compared).toBeGreaterThan(20);
  });

  it('come in the order of cost, then of their candidates, first to last', () => {
    fc.assert(
      fc.property(
        smallSetup,
        fc.array(symbols, { minLength: 1, maxLength: 3 }),
        (setup, chords) => {
          const wishes: Wishes = { ...noWishes(false), sizes: [2, 3], match: 'lean' };
          const stages = prepareAll(setup, progressionOf(chords), wishes)
            .filter(({ layer }) => layer.count > 0)
            .map(stageFor);
          const product = stages.reduce((all, { layer }) => all * layer.count, 1);
          fc.pre(stages.length > 0 && product <= MOST);
          const costs = moveCosts(setup, EVEN_WAY);
          const question = { stages, costs, times: stages.map(() => 1) };
          const few = bestWays({ ...question, most: 12 });
          const all = bestWays({ ...question, most: product });
          expect(all).toHaveLength(product);
          expect(few).toEqual(all.slice(0, 12));
          const keys = all.map(({ cost, places }) => [cost, ...places]);
          const inOrder = [...keys].sort((a, b) => {
            const apart = a.findIndex((value, i) => value !== b[i]);
            return apart < 0 ? 0 : (a[apart] ?? 0) - (b[apart] ?? 0);
          });
          expect(keys).toEqual(inOrder);
        },
      ),
      { numRuns: runs(40, 1000) },
    );
  });
});
