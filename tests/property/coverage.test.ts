/**
 * Coverage and comparison said once more by lists and loops over every root, fret and grip: what can
 * be played comes from the plain search, what it costs from the ranking of the search itself.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allowedSets, defaultMatch } from '$lib/theory/allowedSets';
import type { Chord } from '$lib/theory/chord';
import { builtIn } from '$lib/setup/builtIns';
import { fretMm, type Setup } from '$lib/setup/setup';
import { positionsOf } from '$lib/answers/positions';
import { answer } from '$lib/answers/answer';
import { slantsByDefault } from '$lib/search/nutIndex';
import { compare } from '$lib/coverage/compare';
import { LISTS } from '$lib/coverage/listNames';
import { coverageOf } from '$lib/coverage/coverage';
import { chordsOfKey } from '$lib/theory/keyChords';
import type { Repertoire } from '$lib/theory/repertoire';
import { runs } from '../battery';
import { smallSetup } from './generators';
import { plainSearch, plainSets, type PlainVoicing } from './plainSearch';
import type { Effort } from '$lib/effort/effort';
import { EVEN } from '$lib/effort/weights';
import { chordOf, question } from '../unit/search/asking';

const ROOTS = 'C Db D Eb E F F# G Ab A Bb B'.split(' ');
const TYPES = ['', 'm', '7', 'm7', '6', 'dim', 'aug', 'sus4', '9', 'dim7'];
const repertoire: Repertoire = TYPES.map((type, place) => ({ type, weight: place + 1 }));

/** The plain search knows no slants, which are on where there is no pedal. */
const straight = smallSetup.filter((setup) => !slantsByDefault(setup));

/** Every voicing of some chords, neck by neck. */
function plainVoicings(
  setup: Setup,
  chords: readonly Chord[],
): (PlainVoicing & { neck: number })[][] {
  const found: (PlainVoicing & { neck: number })[][] = chords.map(() => []);
  setup.necks.forEach((_, index) => {
    const neck = index + 1;
    const asked = chords.map((chord) => ({ sets: plainSets(chord, defaultMatch(chord)) }));
    const frets: [number, number] = [0, setup.frets];
    plainSearch(setup, { neck, frets, sizes: [3, 4] }, asked).forEach((voicings, place) =>
      found[place]?.push(...voicings.map((each) => ({ ...each, neck }))),
    );
  });
  return found;
}

/** What the search answers for a chord as it takes it by default, slants included. */
const ranked = (setup: Setup, chord: Chord) =>
  answer(setup, {
    ...question(setup, chord.symbol),
    match: defaultMatch(chord),
    slants: slantsByDefault(setup),
    // coverage counts work: whether a chord is heard clearly is no merit of a setup
    balance: { ...EVEN, clarity: 0 },
  });

/** Thinking where a chord lies is no merit of a setup either. */
const workOf = ({ total, terms }: Effort): number =>
  Math.round(
    terms
      .filter(({ name }) => name === 'not where its root lies open')
      .reduce((rest, { value }) => rest - value, total) * 1000,
  ) / 1000;

const onRoots = (type: string): Chord[] => ROOTS.map((root) => chordOf(root + type));
const sum = (numbers: readonly number[]): number => numbers.reduce((all, each) => all + each, 0);
const low = ({ pitches }: { pitches: readonly number[] }): number => Math.min(...pitches);
const high = ({ pitches }: { pitches: readonly number[] }): number => Math.max(...pitches);

describe('coverage of a chord type', () => {
  it('counts what the plain search finds on the twelve roots', () => {
    fc.assert(
      fc.property(straight, fc.constantFrom(...TYPES), (setup, type) => {
        const [covered] = coverageOf(setup, [{ type, weight: 1 }]).types;
        const chords = onRoots(type);
        const found = plainVoicings(setup, chords);
        expect(covered?.byRoot).toEqual(found.map((voicings) => voicings.length));
        // the same strings, pitches and fret on another root are the same voicing
        const differing = (some: (PlainVoicing & { neck: number })[]): number =>
          new Set(
            some.map(({ neck, fret, strings, pitches }) =>
              [neck, fret, strings.join('-'), pitches.join('-')].join('|'),
            ),
          ).size;
        expect(covered?.voicings).toBe(differing(found.flat()));
        // tones by their distance from the root
        const toneCounts = (pitchOf: typeof low) =>
          chords[0]?.tones
            .map(({ degree, chroma }) => ({
              degree,
              voicings: sum(
                found.map(
                  (voicings, root) =>
                    voicings.filter((each) => (pitchOf(each) - root + 120) % 12 === chroma).length,
                ),
              ),
            }))
            .filter(({ voicings }) => voicings > 0);
        expect(covered?.inversions).toEqual(toneCounts(low));
        expect(covered?.tops).toEqual(toneCounts(high));
        const different = (pitchOf: typeof low) =>
          sum(found.map((voicings) => new Set(voicings.map(pitchOf)).size));
        expect(covered?.basses).toBe(different(low));
        expect(covered?.melody).toBe(different(high));
        const whole = new Map(chords.map((chord, root) => [root, plainSets(chord, 'complete')]));
        const classes = ({ pitches }: PlainVoicing): string =>
          [...new Set(pitches.map((each) => each % 12))].sort((a, b) => a - b).join(' ');
        expect(covered?.complete).toBe(
          differing(
            found.flatMap((voicings, root) =>
              voicings.filter((each) => whole.get(root)?.has(classes(each))),
            ),
          ),
        );
      }),
      { numRuns: runs(25, 1500) },
    );
  });

  /** Places and efforts as the search itself tells them, chord by chord. */
  function agreesWithSearch(setup: Setup, type: string): void {
    const [covered] = coverageOf(setup, [{ type, weight: 1 }]).types;
    const answers = onRoots(type).map((chord) => ranked(setup, chord));
    expect(covered?.byRoot).toEqual(answers.map(({ count }) => count));
    expect(covered?.places).toBe(sum(answers.map((each) => positionsOf(each).length)));
    const efforts = answers
      .flatMap((each) => Array.from({ length: each.count }, (_, i) => workOf(each.at(i).effort)))
      .sort((a, b) => a - b);
    const middle = efforts.length / 2;
    const median =
      ((efforts[Math.ceil(middle) - 1] ?? NaN) + (efforts[Math.floor(middle)] ?? NaN)) / 2;
    if (efforts.length === 0) expect(covered?.effort).toEqual({ least: null, median: null });
    else {
      expect(covered?.effort.least).toBe(efforts[0]);
      expect(covered?.effort.median).toBeCloseTo(median, 9);
    }
  }

  it('has the places and the efforts of the search, slants and several necks too', () => {
    fc.assert(fc.property(smallSetup, fc.constantFrom(...TYPES), agreesWithSearch), {
      numRuns: runs(18, 1000),
    });
    agreesWithSearch(builtIn('lap6-c6'), '6');
  });
});

describe('pockets and bar travel', () => {
  it('hold the chords that the plain search finds at those frets', () => {
    const key = { tonic: { letter: 'C', alter: 0 }, mode: 'major' } as const;
    const chords = chordsOfKey(key).filter(({ kind }) => kind !== 'secondary');
    fc.assert(
      fc.property(straight, fc.constantFrom(0, 1, 2), (setup, pocket) => {
        const pockets = coverageOf(setup, repertoire, { key, pocket }).pockets;
        const found = plainVoicings(
          setup,
          chords.map(({ chord }) => chord),
        );
        const wholes = chords.map(({ chord }) => plainSets(chord, 'complete'));
        expect(pockets).toHaveLength(setup.frets + 1);
        for (const { fret, chords: held } of pockets) {
          const plain = chords.flatMap(({ chord }, place) => {
            const here = found[place]?.filter((each) => Math.abs(each.fret - fret) <= pocket) ?? [];
            if (here.length === 0) return [];
            const complete = here.some(({ pitches }) =>
              wholes[place]?.has(
                [...new Set(pitches.map((each) => each % 12))].sort((a, b) => a - b).join(' '),
              ),
            );
            return [`${chord.symbol} ${complete ? 'complete' : 'lean'}`];
          });
          expect(
            held
              .filter(({ numeral }) => !numeral.includes('/'))
              .map(({ symbol, match }) => `${symbol} ${match}`),
          ).toEqual(plain);
        }
      }),
      { numRuns: runs(30, 600) },
    );
  });

  it('is the mean of the shortest ways between the frets of two chords', () => {
    const pair: Repertoire = [
      { type: '', weight: 3 },
      { type: 'm7', weight: 1 },
    ];
    fc.assert(
      fc.property(straight, (setup) => {
        const frets = pair.map(({ type }) =>
          plainVoicings(setup, onRoots(type)).map((voicings) => [
            ...new Set(voicings.map(({ fret }) => fret)),
          ]),
        );
        const mm = (fret: number): number => fretMm(fret, setup.scaleLengthMm);
        const mean = (from: number, to: number): number | null => {
          const ways: number[] = [];
          frets[from]?.forEach((starts, root) =>
            starts.forEach((start) =>
              frets[to]?.forEach((ends, other) => {
                if (from === to && root === other) return;
                ways.push(Math.min(...ends.map((end) => Math.abs(mm(end) - mm(start)))));
              }),
            ),
          );
          const all = sum(ways);
          return ways.length === 0 || !Number.isFinite(all) ? null : all / ways.length;
        };
        for (const { from, to, mm: told } of coverageOf(setup, pair).travel.between) {
          const [a, b] = [from, to].map((type) => pair.findIndex((each) => each.type === type));
          const plain = mean(a ?? 0, b ?? 0);
          if (plain === null) expect(told).toBeNull();
          else expect(told).toBeCloseTo(plain, 6);
        }
      }),
      { numRuns: runs(30, 600) },
    );
  });
});

describe('comparison of two setups', () => {
  /** By type and pitches low to high: the least effort, as the search ranks it. */
  function plainSounds(setup: Setup, most = Infinity): Map<string, number> {
    const sounds = new Map<string, number>();
    for (const { type } of repertoire)
      for (const chord of onRoots(type)) {
        const found = ranked(setup, chord);
        for (let place = 0; place < found.count; place++) {
          const { voicing, effort } = found.at(place);
          const work = workOf(effort);
          if (work > most) continue;
          const key = `${type}|${[...voicing.pitches].sort((a, b) => a - b).join(' ')}`;
          sounds.set(key, Math.min(sounds.get(key) ?? Infinity, work));
        }
      }
    return sounds;
  }
  const countBy = (keys: readonly string[]) =>
    repertoire.flatMap(({ type }) => {
      const count = keys.filter((key) => key.startsWith(`${type}|`)).length;
      return count === 0 ? [] : [[type, count]];
    });

  it('finds what only one can sound, and what one sounds with less effort', () => {
    fc.assert(
      fc.property(smallSetup, smallSetup, fc.constantFrom(undefined, 2, 4), (a, b, mostEffort) => {
        const told = compare(a, b, repertoire, mostEffort === undefined ? {} : { mostEffort });
        const sounds = { a: plainSounds(a, mostEffort), b: plainSounds(b, mostEffort) };
        const only = (here: 'a' | 'b', there: 'a' | 'b') =>
          [...sounds[here].keys()].filter((key) => !sounds[there].has(key));
        const easier = (here: 'a' | 'b', there: 'a' | 'b') =>
          [...sounds[here]].flatMap(([key, effort]) =>
            effort < (sounds[there].get(key) ?? -1) ? [key] : [],
          );
        const plain = {
          onlyA: only('a', 'b'),
          onlyB: only('b', 'a'),
          easierA: easier('a', 'b'),
          easierB: easier('b', 'a'),
        };
        for (const list of LISTS) {
          expect(told[list].count, list).toBe(plain[list].length);
          expect(
            told[list].byType.map(({ type, count }) => [type, count]),
            list,
          ).toEqual(countBy(plain[list]));
          for (const entry of told[list].entries(0, 5)) {
            const { pitches } = entry.here.voicing;
            const key = `${entry.type}|${[...pitches].sort((x, y) => x - y).join(' ')}`;
            expect(plain[list]).toContain(key);
            // the chord that it is called is what sounds
            expect(
              allowedSets(entry.chord, defaultMatch(entry.chord)).map(({ set }) => set),
            ).toContain(entry.here.voicing.pitchClasses);
            if (entry.there !== undefined)
              expect([...entry.there.voicing.pitches].sort((x, y) => x - y)).toEqual(
                [...pitches].sort((x, y) => x - y),
              );
          }
        }
      }),
      { numRuns: runs(4, 600) },
    );
  });

  it('of a setup with itself differs in nothing', () => {
    fc.assert(
      fc.property(smallSetup, (setup) => {
        const told = compare(setup, { ...setup }, repertoire);
        expect(LISTS.map((list) => told[list].count)).toEqual([0, 0, 0, 0]);
        expect(told.measures.a).toEqual(told.measures.b);
        expect(told.types.every(({ lead }) => lead === 0)).toBe(true);
      }),
      { numRuns: runs(15, 300) },
    );
  });
});
