/** What was found of pull sets for several stations: joined from parts in any order, each part once. */
import type { PlainPull } from '$lib/setup/candidates';
import type { Station } from '$lib/setup/setup';
import type { Example } from './examples';
import { joinedRanges, type CandidateRange } from './ranges';

/** By station, in the order of the question: the number of its pull set; −1 where it stays as it is. */
export type Picks = readonly number[];

/** A choice that was weighed. */
export interface Weighed {
  readonly picks: Picks;
  /** How many strings are moved in all. */
  readonly strings: number;
  /** The sum of its gain, a whole number. */
  readonly sum: number;
  readonly score: number;
  /** Choices of one name do the same by other stations. */
  readonly name: string;
}

/** How many choices were skipped and by what, and how many weighed. */
export interface Counts {
  /** They do not move what must be moved. */
  readonly must: number;
  /** Their raises or lowers are more than the fingers of the changer take. */
  readonly room: number;
  /** All choices with one first pull set at once. */
  readonly whole: number;
  /** By the sums of their parts. */
  readonly parts: number;
  /** By the chords of the second beside those of the first. */
  readonly spots: number;
  readonly weighed: number;
  /** Of those that were weighed: the gain alone was too small, so that their clarity was not asked. */
  readonly gain: number;
}

/** What becomes of candidates: skipped by one bound or another, or weighed, and those of them that gain. */
export const COUNTS = ['must', 'room', 'whole', 'parts', 'spots', 'weighed', 'gain'] as const;

/** Some units of a search, worked through. */
export interface FoundTogether {
  /** Tells questions apart: results of different ones cannot be joined. */
  readonly question: string;
  readonly limit: number;
  /** Choices in all, and those that are worked through. */
  readonly candidates: number;
  readonly done: number;
  /** Units in all: the pieces that cannot be divided. */
  readonly units: number;
  /** Units worked through, ascending, with gaps between. */
  readonly ranges: readonly CandidateRange[];
  readonly counts: Counts;
  /** Highest score first; of those that do the same only the first. */
  readonly best: readonly Weighed[];
  /** The best of so many strings moved, fewest first. */
  readonly frontier: readonly Weighed[];
  /** No choice that is left scores above this; not there where nothing is left. */
  readonly left?: number | undefined;
}

/** One control with its pulls, as results tell it. */
export interface ToldControl {
  readonly station: Station;
  readonly pulls: readonly PlainPull[];
}

/** A choice in words of the setup. */
export interface ToldTogether {
  readonly controls: readonly ToldControl[];
  readonly strings: number;
  readonly gain: number;
  readonly score: number;
  readonly examples: readonly Example[];
  readonly byType: readonly { readonly type: string; readonly gain: number }[];
  readonly opens: readonly { readonly type: string; readonly root: number }[];
  /** The same pull sets at the other stations: the same sounds under another limb. */
  readonly alike: readonly { readonly controls: readonly ToldControl[]; readonly score: number }[];
}

/** What the best of the known ones ask of those that come. */
export interface Asked {
  /** The score of the last of the best; 0 while there are not as many as are wanted. */
  readonly last: number;
  /** By strings moved: the best score. */
  readonly byStrings: readonly number[];
}

/** Higher scores first; of equal ones the one whose picks come first. */
export function inOrder(a: Weighed, b: Weighed): number {
  if (a.score !== b.score) return b.score - a.score;
  const at = a.picks.findIndex((pick, index) => pick !== b.picks[index]);
  return at < 0 ? 0 : (a.picks[at] as number) - (b.picks[at] as number);
}

/** Gathers the best, the ones that do the same once, and the best of so many strings. */
export class BestTogether {
  readonly #limit: number;
  /** As many as are wanted, in order. */
  #best: Weighed[] = [];
  readonly #byStrings: (Weighed | undefined)[] = [];
  readonly #known: Asked;

  /** @param known what others have found already: no less is asked */
  constructor(limit: number, known: Asked = { last: 0, byStrings: [] }) {
    this.#limit = limit;
    this.#known = known;
  }

  get best(): readonly Weighed[] {
    return this.#best;
  }

  get frontier(): readonly Weighed[] {
    return this.#byStrings.filter((each) => each !== undefined);
  }

  get asked(): Asked {
    const isFull = this.#limit > 0 && this.#best.length === this.#limit;
    return {
      last: Math.max(this.#known.last, isFull ? (this.#best.at(-1)?.score ?? 0) : 0),
      byStrings: Array.from(
        { length: Math.max(this.#byStrings.length, this.#known.byStrings.length) },
        (_, strings) =>
          Math.max(this.#byStrings[strings]?.score ?? 0, this.#known.byStrings[strings] ?? 0),
      ),
    };
  }

  /**
   * @param whole it fills every station: only such are among the best
   */
  add(weighed: Weighed, whole: boolean): void {
    const of = this.#byStrings[weighed.strings];
    if (of === undefined || inOrder(weighed, of) < 0) this.#byStrings[weighed.strings] = weighed;
    if (!whole) return;
    const same = this.#best.findIndex(({ name }) => name === weighed.name);
    if (same >= 0) {
      if (inOrder(weighed, this.#best[same] as Weighed) >= 0) return;
      this.#best.splice(same, 1);
    }
    let [low, high] = [0, this.#best.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (inOrder(this.#best[middle] as Weighed, weighed) <= 0) low = middle + 1;
      else high = middle;
    }
    this.#best.splice(low, 0, weighed);
    if (this.#limit > 0 && this.#best.length > this.#limit) this.#best.pop();
  }
}

/** Joins what was found of one question, in any order. Throws where a unit is in more than one part. */
export function joinTogether(parts: readonly FoundTogether[]): FoundTogether {
  const [first] = parts;
  if (first === undefined) throw new Error('nothing to join');
  const other = parts.find(({ question }) => question !== first.question);
  if (other !== undefined) throw new Error(`question ${other.question} beside ${first.question}`);
  const ranges = joinedRanges(parts.flatMap((part) => part.ranges));
  const many = (all: readonly CandidateRange[]): number =>
    all.reduce((sum, [from, to]) => sum + to - from + 1, 0);
  if (many(ranges) !== parts.reduce((sum, part) => sum + many(part.ranges), 0))
    throw new Error('a unit in two parts would be counted twice');
  const best = new BestTogether(first.limit);
  for (const part of parts) {
    for (const each of part.best) best.add(each, true);
    for (const each of part.frontier) best.add(each, false);
  }
  const counts = Object.fromEntries(
    COUNTS.map((by) => [by, parts.reduce((sum, part) => sum + part.counts[by], 0)]),
  ) as unknown as Counts;
  return {
    question: first.question,
    limit: first.limit,
    candidates: first.candidates,
    done: parts.reduce((sum, { done }) => sum + done, 0),
    units: first.units,
    ranges,
    counts,
    best: best.best,
    frontier: best.frontier,
  };
}

/** What the known ones ask of those that come. */
export function askedBy({ limit, best, frontier }: FoundTogether): Asked {
  const known = new BestTogether(limit);
  for (const each of best) known.add(each, true);
  for (const each of frontier) known.add(each, false);
  return known.asked;
}

/** The units that are not in a list of ranges. */
export function unitsLeft(units: number, ranges: readonly CandidateRange[]): CandidateRange[] {
  const left: CandidateRange[] = [];
  let next = 0;
  for (const [from, to] of joinedRanges(ranges)) {
    if (from > next) left.push([next, from - 1]);
    next = to + 1;
  }
  if (next < units) left.push([next, units - 1]);
  return left;
}

/** The highest bound among the units that are not done; left out where all are. */
export function withBound(found: FoundTogether, bounds: Float64Array | undefined): FoundTogether {
  const left = unitsLeft(found.units, found.ranges);
  if (left.length === 0 || bounds === undefined) return { ...found, left: undefined };
  let most = 0;
  for (const [from, to] of left)
    for (let unit = from; unit <= to; unit++) most = Math.max(most, bounds[unit] as number);
  return { ...found, left: most };
}

/** How many units are worked through. */
export const unitsDone = ({ ranges }: Pick<FoundTogether, 'ranges'>): number =>
  ranges.reduce((sum, [from, to]) => sum + to - from + 1, 0);

/** How many of the units that are not done have a choice that may still come among the best. */
export function unitsThatCount(found: FoundTogether, bounds: Float64Array): number {
  const { last } = askedBy(found);
  let many = 0;
  for (const [from, to] of unitsLeft(found.units, found.ranges))
    for (let unit = from; unit <= to; unit++) if ((bounds[unit] as number) > last) many++;
  return many;
}
