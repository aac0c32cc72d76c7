/**
 * The whole trip from what is wanted to ranked voicings: an index for each neck, a look-up by chord, a
 * ranking, and one order over all necks.
 */
import { allowedSets, fewToneSets, type Match } from '$lib/theory/allowedSets';
import type { Chord } from '$lib/theory/chord';
import { chromaOf, chromaOfName, type Midi } from '$lib/theory/pitch';
import { find, slantFits, type WantedNote, type WantedSet } from '$lib/search/find';
import type { NutIndex } from '$lib/search/nutIndex';
import { voicingAt, type Voicing } from '$lib/search/voicing';
import type { Effort } from '$lib/effort/effort';
import type { Balance } from '$lib/effort/weights';
import type { Instrument } from './instrument';
import { effortOfVoicing, rank, type Ranked } from './rank';

/** A chord, and where and how it may be played. */
export interface VoicingQuestion {
  readonly chord: Chord;
  /** Necks to search, from 1. */
  readonly necks: readonly number[];
  readonly frets: readonly [number, number];
  readonly sizes: readonly [number, number];
  readonly match: Match;
  /** Exactly these pitches, ascending; any octaves where left out. */
  readonly pitches?: readonly Midi[];
  /** Only these strings; all where left out. */
  readonly strings?: readonly number[];
  readonly top?: WantedNote;
  readonly bass?: WantedNote;
  /** Ids of controls not to use. */
  readonly without: readonly string[];
  /** The fret where the bar is, where that counts. */
  readonly home?: number;
  readonly slants: boolean;
  readonly balance: Balance;
}

/** How much ground a search covered. */
export interface Searched {
  /** Reachable combinations of controls, the one with nothing engaged among them. */
  readonly combinations: number;
  /** Combinations × frets × grips, over the necks that were searched. */
  readonly candidates: number;
}

export interface RankedVoicing {
  readonly voicing: Voicing;
  readonly effort: Effort;
}

export interface RankedVoicings {
  readonly searched: Searched;
  /** Every match, whatever is shown of them. */
  readonly count: number;
  /** The voicing in a row of the ranking, from 0. */
  at(index: number): RankedVoicing;
  /** A number for where the hands are in a row: neck, fret, slant, easiest combination. */
  positionAt(index: number): number;
  /** The fret of a row. */
  fretAt(index: number): number;
  /** A number that rows share which are one voicing in several octaves, at frets twelve apart. */
  octavesAt(index: number): number;
}

/**
 * The sets that satisfy a question, those with fewest tones missing first. Grips of one and two strings
 * have sets of their own, unless the whole chord is asked for.
 */
export function wantedSets({
  chord,
  match,
  sizes,
}: Pick<VoicingQuestion, 'chord' | 'match' | 'sizes'>): WantedSet[] {
  const sets: WantedSet[] = allowedSets(chord, match);
  if (match === 'complete') return sets;
  for (const strings of [2, 1]) {
    if (sizes[0] > strings || sizes[1] < strings) continue;
    const more = fewToneSets(chord, strings).filter(
      (few) => !sets.some(({ set }) => set === few.set),
    );
    sets.push(...more.map((few) => ({ ...few, strings })));
  }
  return sets;
}

/** n over k. */
function choose(n: number, k: number): number {
  let ways = 1;
  for (let i = 1; i <= k; i++) ways = (ways * (n - k + i)) / i;
  return k > n ? 0 : Math.round(ways);
}

/** Combinations × frets × grips; a slanted grip counts at the frets where its bar lies on the neck. */
function candidatesOn(index: NutIndex, question: VoicingQuestion, combinations: number): number {
  const [first, last] = question.frets;
  const strings = question.strings
    ? question.strings.filter((string) => string <= index.on.strings).length
    : index.on.strings;
  let grips = 0;
  for (let size = question.sizes[0]; size <= question.sizes[1]; size++)
    grips += choose(strings, size) * (last - first + 1);
  for (const { ahead } of index.slants)
    for (let fret = first; fret <= last; fret++)
      if (slantFits(ahead, fret, question.frets)) grips++;
  return combinations * grips;
}

interface NeckAnswer {
  readonly index: NutIndex;
  readonly ranked: Ranked;
}

/** Where a row of the whole ranking stands in the ranking of its neck. */
type Row = readonly [neck: number, row: number];

/** The ranking over all necks: effort first, then fret, then neck. */
function rowAt(necks: readonly NeckAnswer[]): (index: number) => Row {
  if (necks.length === 1) return (index) => [0, index];
  const value = ([neck, row]: Row, of: 'effort' | 'fret'): number =>
    necks[neck]?.ranked[of][row] ?? 0;
  const rows = necks.flatMap(({ ranked }, neck) =>
    Array.from({ length: ranked.count }, (_, row): Row => [neck, row]),
  );
  // a stable sort: within a neck the ranking stands
  rows.sort(
    (a, b) => value(a, 'effort') - value(b, 'effort') || value(a, 'fret') - value(b, 'fret'),
  );
  return (index) => rows[index] ?? [0, 0];
}

/** Searches, matches and ranks; nothing is left out. */
export function rankedVoicings(asked: Instrument, question: VoicingQuestion): RankedVoicings {
  const instrument = asked.leaving(question.without);
  const combinations = instrument.reachable.engaged.length;
  const sets = wantedSets(question);
  const lowest = [
    ...(question.chord.bass ? [{ chroma: chromaOfName(question.chord.bass) }] : []),
    ...(question.bass ? [question.bass] : []),
  ];
  const hand = { balance: question.balance, home: question.home };
  const necks = question.necks.map((neck): NeckAnswer => {
    const index = instrument.index(neck, question);
    const found = find(index, {
      sets,
      lowest,
      ...(question.top === undefined ? {} : { highest: question.top }),
      ...(question.pitches === undefined ? {} : { pitches: question.pitches }),
      frets: question.frets,
    });
    return { index, ranked: rank(instrument, index, found, { chord: question.chord, sets }, hand) };
  });
  const count = necks.reduce((sum, { ranked }) => sum + ranked.count, 0);
  const rowOf = rowAt(necks);
  const at = (
    index: number,
  ): { answer: NeckAnswer; voicing: number; fret: number; way: number } => {
    const [neck, row] = rowOf(index);
    const answer = necks[neck];
    if (index < 0 || index >= count || answer === undefined)
      throw new Error(`row ${index} of a ranking of ${count}`);
    const { ranked } = answer;
    return {
      answer,
      voicing: ranked.voicing[row] ?? 0,
      fret: ranked.fret[row] ?? 0,
      way: ranked.way[row] ?? 0,
    };
  };
  return {
    searched: {
      combinations,
      candidates: necks.reduce(
        (sum, { index }) => sum + candidatesOn(index, question, combinations),
        0,
      ),
    },
    count,
    at(index) {
      const { answer, voicing: number, fret, way } = at(index);
      const all = voicingAt(answer.index, number, fret, sets);
      const easiest = answer.index.on.engaged[way] ?? [];
      const ways = [easiest, ...all.ways.filter((each) => each !== easiest)];
      const voicing = { ...all, ways };
      return { voicing, effort: effortOfVoicing(instrument, voicing, hand, question.chord) };
    },
    positionAt(rank) {
      const { answer, voicing, fret, way: hands } = at(rank);
      const { index } = answer;
      const slant = index.slantAt(voicing)?.slant ?? 0;
      return ((hands * 64 + fret) * 8 + slant + 2) * 4 + index.on.neck;
    },
    fretAt: (rank) => at(rank).fret,
    octavesAt(rank) {
      const { answer, voicing, fret } = at(rank);
      return (voicing * 12 + chromaOf(fret)) * 4 + answer.index.on.neck;
    },
  };
}
