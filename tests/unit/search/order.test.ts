import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { feetEffort } from '$lib/effort/feet';
import { CLARITY_WEIGHTS } from '$lib/effort/weights';
import { answer } from '$lib/answers/answer';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { compile } from '$lib/engine/instrument';
import { voicingAt } from '$lib/search/voicing';
import { runs } from '../../battery';
import { smallSetup } from '../../property/generators';
import { everySet, plainOpen, plainReachable } from '../../property/plainSearch';
import { ask, question, wayText, wholeOf } from './asking';

const compareLists = (a: readonly number[], b: readonly number[]): number => {
  for (let i = 0; i < Math.min(a.length, b.length); i++)
    if (a[i] !== b[i]) return (a[i] ?? 0) - (b[i] ?? 0);
  return a.length - b.length;
};

/** Model, section 7: least effort first; ties are broken by fret, then strings, then ways. */
function outOfOrder(list: readonly RankedVoicing[]): string[] {
  const wrong: string[] = [];
  list.forEach((each, place) => {
    const before = list[place - 1];
    if (before === undefined) return;
    const order =
      before.effort.total - each.effort.total ||
      before.voicing.fret - each.voicing.fret ||
      before.voicing.neck - each.voicing.neck ||
      compareLists(before.voicing.strings, each.voicing.strings);
    if (order > 0)
      wrong.push(`${place}: ${wholeOf(before.voicing)} before ${wholeOf(each.voicing)}`);
  });
  return wrong;
}

describe('the list of an answer', () => {
  it.each(['e9', 'c6', 'double', 'universal12', 'lap8-c6'] as const)(
    'on %s goes by effort, then fret, then strings',
    (id) => {
      for (const symbol of ['E', 'A7', 'C6'])
        for (const home of [undefined, 5])
          expect(
            outOfOrder(
              ask(builtIn(id), symbol, {
                slants: id === 'lap8-c6',
                ...(home === undefined ? {} : { home }),
              }),
            ),
            symbol,
          ).toEqual([]);
    },
    60_000,
  );

  it('counts in every row what the table of clarity says, added up plainly', () => {
    const {
      fifth,
      root,
      inner,
      telling,
      otherChord,
      afloat,
      unison,
      semitone,
      wholeTone,
      cluster,
      split,
    } = CLARITY_WEIGHTS;
    for (const [id, symbol] of [
      ['e9', 'G13'],
      ['c6', 'Cmaj9'],
      ['lap6-c6', 'F'],
    ] as const)
      for (const { voicing, effort } of ask(builtIn(id), symbol, {
        sizes: [1, 5],
        match: 'rootless',
        slants: id === 'lap6-c6',
      })) {
        const { missing, pitches } = voicing;
        const lacks = (degree: string): boolean => missing.includes(degree);
        let plain = 0;
        for (const degree of missing) {
          // in a 13 the 9 may be missing, in a 9 it may not
          const isInner = symbol === 'G13' && degree === '9';
          plain += degree === '1' ? root : degree === '5' ? fifth : isInner ? inner : telling;
        }
        const isDominant = symbol === 'G13' && !lacks('3') && !lacks('b7');
        if (lacks('1') && !isDominant) plain += otherChord;
        // two notes stand on nothing anyway
        if (lacks('1') && lacks('5') && new Set(pitches.map((midi) => midi % 12)).size > 2)
          plain += afloat;
        const tones = [...pitches].sort((a, b) => a - b);
        for (let i = 0; i + 1 < tones.length; i++) {
          const low = tones[i] ?? 0;
          const step = (tones[i + 1] ?? 0) - low;
          const next = (tones[i + 2] ?? Infinity) - (tones[i + 1] ?? 0);
          plain += [unison, semitone, wholeTone][step] ?? 0;
          if (step > 0 && step <= 2 && next > 0 && next <= 2) plain += cluster;
          const clearAbove = [0, 52, 51, 48, 47][step] ?? 0;
          plain += Math.max(0, clearAbove - low) * CLARITY_WEIGHTS.lowPerSemitone;
        }
        // picked strings that one control of the way raises and another lowers
        const alone = (voicing.ways[0] ?? []).map((each) =>
          voicing.strings.map(
            (string) =>
              plainOpen(builtIn(id), 1, string, [each]) - plainOpen(builtIn(id), 1, string, []),
          ),
        );
        plain +=
          split *
          voicing.strings.filter(
            (_, at) =>
              alone.some((moves) => (moves[at] ?? 0) > 0) &&
              alone.some((moves) => (moves[at] ?? 0) < 0),
          ).length;
        expect(effort.clarity, `${symbol} ${wholeOf(voicing)}`).toBeCloseTo(plain, 9);
      }
  });

  it('keeps that order under any balance', () => {
    const weight = fc.integer({ min: 0, max: 20 }).map((n) => n / 2);
    fc.assert(
      fc.property(
        fc.record({ feet: weight, picking: weight, bar: weight, clarity: weight }),
        (balance) => {
          expect(outOfOrder(ask(builtIn('e9'), 'A', { sizes: [3, 3], balance, home: 3 }))).toEqual(
            [],
          );
        },
      ),
      { numRuns: runs(15) },
    );
  });

  it('is the same whenever it is asked, whatever was asked in between', () => {
    const listOf = (setup = builtIn('e9')): string[] =>
      ask(setup, 'F#m7').map(({ voicing, effort }) => `${wholeOf(voicing)} ${effort.total}`);
    const first = listOf();
    ask(builtIn('c6'), 'G');
    ask(builtIn('e9'), 'F#m7', { without: ['A'], sizes: [2, 5] });
    expect(listOf()).toEqual(first);
    expect(listOf(structuredClone(builtIn('e9')))).toEqual(first);
  });

  it('has as many places as it counts, and no others', () => {
    const e9 = builtIn('e9');
    const found = answer(e9, question(e9, 'E'));
    expect(found.count).toBe(ask(e9, 'E').length);
    for (const place of [-1, found.count]) expect(() => found.at(place)).toThrow(`${place}`);
    const none = answer(e9, question(e9, 'E', { strings: [3], sizes: [3, 4] }));
    expect(none.count).toBe(0);
    expect(() => none.at(0)).toThrow();
  });

  it('shows the cheapest way first, and the effort by that way', () => {
    const setup = builtIn('e9');
    for (const { voicing, effort } of ask(setup, 'A')) {
      const costs = voicing.ways.map((way) => feetEffort(setup, way));
      expect(costs).toEqual(costs.toSorted((a, b) => a - b));
      expect(effort.feet).toBeCloseTo(costs[0] ?? NaN, 9);
    }
  });
});

describe('the index at the nut keeps the easiest combination of every voicing', () => {
  it('on random setups, held against every combination that sounds the same', () => {
    fc.assert(
      fc.property(smallSetup, (setup) => {
        const index = compile(setup).index(1, { sizes: [2, 3], slants: false });
        const sets = everySet(setup.controls).filter((set) => plainReachable(setup, set));
        for (let number = 0; number < index.count; number++) {
          const { strings, pitches, ways } = voicingAt(index, number, 0);
          const same = sets.filter((set) =>
            strings.every((string, i) => plainOpen(setup, 1, string, set) === pitches[i]),
          );
          const least = Math.min(...same.map((set) => feetEffort(setup, set)));
          const kept = index.on.engaged[index.combination[number] ?? 0] ?? [];
          expect(feetEffort(setup, kept)).toBeCloseTo(least, 9);
          expect(wayText(ways[0] ?? [])).toBe(wayText(kept));
        }
      }),
      { numRuns: runs(60) },
    );
  });

  it('and numbers its combinations cheapest first', () => {
    for (const id of ['e9', 'c6', 'double', 'universal12'] as const) {
      const setup = builtIn(id);
      const { cost, engaged } = compile(setup).reachable;
      expect([...cost]).toEqual([...cost].sort((a, b) => a - b));
      expect(engaged[0]).toEqual([]);
    }
  });
});
