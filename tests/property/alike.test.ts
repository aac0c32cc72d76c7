/** Pieces with repeats, endings and jumps, all passes alike, against every way there is of playing them so. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { readChord } from '$lib/theory/readChord';
import { moveBetween, type SoundingHold } from '$lib/effort/move';
import { engagingTerms } from '$lib/effort/engaging';
import { effortOf } from '$lib/effort/effort';
import { arrange, readyFor } from '$lib/arrange/arrange';
import { bestAlike } from '$lib/arrange/alike';
import { bestWays } from '$lib/arrange/bestWays';
import { passesOf, withPasses } from '$lib/arrange/passes';
import { readProgression } from '$lib/arrange/readText';
import { noWishes, type Wishes } from '$lib/arrange/wishes';
import { builtIn } from '$lib/setup/builtIns';
import { combinations } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { runs } from '../battery';
import { smallSetup } from './generators';
import { codeOf, holdsAfter } from './plainHolds';
import { plainCandidates, type PlainCandidate } from './plainCandidates';

const thousandths = (value: number): number => Math.round(value * 1000);

/** The least cost of playing chosen candidates in order, with what may stay engaged where nothing needs it. */
function leastCost(
  setup: Setup,
  chosen: readonly PlainCandidate[],
  seconds: readonly number[],
  { balance }: Wishes,
  reachable: ReadonlySet<string>,
): number {
  let states: { cost: number; last?: SoundingHold }[] = [{ cost: 0 }];
  chosen.forEach(({ hold: needs, terms }, at) => {
    const next = new Map<string, (typeof states)[number]>();
    for (const { cost, last } of states) {
      const holds = holdsAfter(setup, reachable, last, needs);
      for (const hold of holds) {
        const engaging = engagingTerms(setup, last?.engaged ?? [], needs.engaged);
        const effort = thousandths(effortOf([...engaging, ...terms], balance).total);
        const move =
          last === undefined
            ? 0
            : thousandths(moveBetween(setup, last, hold, balance, seconds[at - 1] ?? 1).total);
        const sum = cost + effort + move;
        const key = codeOf(hold.engaged);
        if (sum < (next.get(key)?.cost ?? Infinity)) next.set(key, { cost: sum, last: hold });
      }
    }
    states = [...next.values()];
  });
  return Math.min(...states.map(({ cost }) => cost));
}

const FORMS = [
  (a: string, b: string, c: string) => `|: ${a} | ${b} :| ${c}`,
  (a: string, b: string, c: string) => `|: ${a} |1. ${b} :|2. ${c} ||`,
  (a: string, b: string, c: string) => `${a} | ${b} (Fine) | ${c} (D.C. al Fine)`,
  (a: string, b: string, c: string) => `${a} | (Segno) ${b} | ${c} (D.S.)`,
  (a: string, b: string, c: string) => `|: ${a} :|x3 |: ${b} | ${c} :|`,
  (a: string, b: string, c: string) => `|: ${a} | ${b} | ${a} :| ${c}`,
] as const;
const symbols = fc.constantFrom('C', 'Am', 'F', 'G7', 'Dm7', 'C5', 'Fmaj7', 'G');

it('the best ways with all passes alike are those of a plain search over all such ways', () => {
  let compared = 0;
  let others = 0;
  /** Something stays in one pass and not in another. */
  let apartOnly = 0;
  fc.assert(
    fc.property(
      smallSetup,
      fc.tuple(symbols, symbols, symbols),
      fc.constantFrom(...FORMS),
      fc.constantFrom(60, 300),
      fc.constantFrom('voicings' as const, 'positions' as const),
      (setup, chords, form, tempo, apart) => {
        const text = `tempo: ${tempo}\n${form(...chords)}`;
        const { progression, piece, faults } = readProgression(text);
        expect(faults).toEqual([]);
        const free: Wishes = { ...noWishes(false), sizes: [2, 3], match: 'lean' };
        const wishes = withPasses(free, progression, piece);
        const passes = passesOf(progression, piece) ?? [];
        expect(new Set(passes).size).toBeLessThan(passes.length);
        const played = progression.bars.map(({ slots }) => slots[0]?.chord);
        const layers = played.map((chord) =>
          chord === undefined || chord === 'no chord'
            ? []
            : plainCandidates(setup, readChordOf(chord.symbol), free),
        );
        fc.pre(layers.every((layer) => layer.length > 0));
        const written = [...new Set(passes)].sort((a, b) => a - b);
        const product = written.reduce((all, at) => all * (layers[at]?.length ?? 0), 1);
        fc.pre(product <= 300);
        const seconds = played.map(() => (4 * 60) / tempo);
        const reachable = new Set([...combinations(setup)].map(codeOf));
        const least = new Map<string, number>();
        const choose = (chosen: ReadonlyMap<number, PlainCandidate>): void => {
          const next = written[chosen.size];
          if (next === undefined) {
            const all = passes.map((at) => chosen.get(at) as PlainCandidate);
            const cost = leastCost(setup, all, seconds, free, reachable);
            const key = JSON.stringify(
              all.map(({ hold }) => [
                ...[hold.neck, hold.fret, hold.slant, codeOf(hold.engaged)],
                ...(apart === 'voicings' ? hold.strings : []),
              ]),
            );
            least.set(key, Math.min(least.get(key) ?? Infinity, cost));
            return;
          }
          for (const each of layers[next] ?? []) choose(new Map(chosen).set(next, each));
        };
        choose(new Map());
        const { ways } = arrange(setup, progression, wishes, 4, apart);
        const expected = [...least.values()].sort((a, b) => a - b).slice(0, 4);
        expect(ways.map(({ total }) => thousandths(total))).toEqual(expected);
        for (const { steps, short } of ways) {
          expect(short).toBeUndefined();
          const as = steps.map(({ voicing, way, hold }) =>
            JSON.stringify([hold.neck, voicing.strings, voicing.frets, codeOf(way)]),
          );
          passes.forEach((first, at) => expect(as[at]).toBe(as[first]));
          const stays = steps.map(({ stays: own }) => codeOf(own));
          if (passes.some((first, at) => stays[at] !== stays[first])) apartOnly++;
        }
        compared++;
        if (ways.length > 1) others++;
      },
    ),
    { numRuns: runs(10, 200) },
  );
  expect(compared).toBeGreaterThan(5);
  expect(others).toBeGreaterThan(2);
  expect(apartOnly).toBeGreaterThan(0);
});

function readChordOf(symbol: string) {
  const read = readChord(symbol);
  if (!read.ok || read.value === 'no chord') throw new Error(symbol);
  return read.value;
}

it('the search of passes finds what the plain search finds where nothing is repeated, whatever stays', () => {
  const e9 = builtIn('e9');
  let stayed = 0;
  fc.assert(
    fc.property(fc.array(symbols, { minLength: 3, maxLength: 7 }), (chords) => {
      const { progression } = readProgression(chords.join(' | '));
      const wishes: Wishes = { ...noWishes(false), sizes: [3, 3], frets: [1, 9] };
      const { question } = readyFor(e9, progression, wishes);
      const asked = { ...question, most: 10 };
      const plain = bestWays(asked);
      const alike = bestAlike({ ...asked, passes: chords.map((_, at) => at) }, bestWays);
      expect(alike.map(({ cost }) => cost)).toEqual(plain.map(({ cost }) => cost));
      expect(new Set(alike.map(({ candidates }) => candidates.join())).size).toBe(alike.length);
      if (alike.some(({ idle }) => idle.some((each) => each !== ''))) stayed++;
    }),
    { numRuns: runs(10, 200) },
  );
  expect(stayed).toBeGreaterThan(0);
});
