/** The pull sets of the second of two controls, with all that they bring beside whatever first. */
import { pullsOf, setOf, type Candidates, type PlainPull } from '$lib/setup/candidates';
import { CandidateEases, type AddedNeck } from './candidateEases';
import type { HeardAtMost } from './clarityTogether';
import type { Yardstick } from './yardstick';

/** Pull sets by their numbers. */
export class SecondSets {
  readonly pulls: readonly (readonly PlainPull[])[];
  /** How many strings each moves. */
  readonly sizes: Uint8Array;
  /** The neck that each moves strings of, from 0; −1 where there are several. */
  readonly necks: Int8Array;
  /** Which of the sets of strings each moves. */
  readonly strings: Uint32Array;
  /** The semitones of each, four places a set. */
  readonly amounts: Int8Array;
  /** The parts of each on one neck, itself left out: rows `partsFrom[set]` … of `parts`, as numbers of sets. */
  readonly partsFrom: Uint32Array;
  readonly parts: Uint32Array;
  /** The spots of each above what is there without the two: rows `spotsFrom[set]` …, necks one after another. */
  readonly spotsFrom: Uint32Array;
  readonly spots: Uint16Array;
  readonly eases: Uint16Array;
  /** The sum that each adds by itself. */
  readonly gains: Float64Array;
  /** What its pulls count at most together, and how many count. */
  readonly heard: Float64Array;
  readonly counted: Uint8Array;

  constructor(
    by: Yardstick,
    candidates: Candidates,
    necks: readonly AddedNeck[],
    heardAtMost: (pulls: readonly PlainPull[]) => HeardAtMost,
  ) {
    const { count } = candidates;
    this.pulls = Array.from({ length: count }, (_, at) => pullsOf(candidates, at));
    this.sizes = Uint8Array.from(this.pulls, ({ length }) => length);
    this.necks = Int8Array.from(this.pulls, ([first, ...others]) =>
      others.every(({ neck }) => neck === first?.neck) ? (first?.neck ?? 0) - 1 : -1,
    );
    this.strings = Uint32Array.from(this.pulls, (_, at) => setOf(candidates, at));
    this.amounts = new Int8Array(count * PLACES);
    this.pulls.forEach((pulls, at) => {
      pulls.forEach(({ semitones }, i) => (this.amounts[at * PLACES + i] = semitones));
    });
    [this.partsFrom, this.parts] = partsOf(this.pulls);
    const second = new CandidateEases(by, candidates, necks);
    const size = by.types.length * 144;
    this.spotsFrom = new Uint32Array(count + 1);
    this.gains = new Float64Array(count);
    this.heard = new Float64Array(count);
    this.counted = new Uint8Array(count);
    let spots = new Uint16Array(1024);
    let eases = new Uint16Array(1024);
    let end = 0;
    for (let at = 0; at < count; at++) {
      second.with(at, () => {
        this.gains[at] = second.added;
        second.eachSpot((neck, spot, ease) => {
          if (end === spots.length) [spots, eases] = [longer(spots), longer(eases)];
          spots[end] = neck * size + spot;
          eases[end++] = ease;
        });
      });
      this.spotsFrom[at + 1] = end;
      const { pulls, most } = heardAtMost(this.pulls[at] as readonly PlainPull[]);
      this.heard[at] = most;
      this.counted[at] = pulls;
    }
    this.spots = spots.slice(0, end);
    this.eases = eases.slice(0, end);
  }

  get count(): number {
    return this.pulls.length;
  }
}

/** Places for semitones of a set in `amounts`. */
export const PLACES = 4;

const longer = (array: Uint16Array<ArrayBuffer>): Uint16Array<ArrayBuffer> => {
  const more = new Uint16Array(array.length * 2);
  more.set(array);
  return more;
};

/** By pull set the numbers of its parts on one neck but itself; the numbers of all sets begin with small ones. */
function partsOf(all: readonly (readonly PlainPull[])[]): [Uint32Array, Uint32Array] {
  const textOf = (pulls: readonly PlainPull[]): string =>
    pulls.map(({ neck, string, semitones }) => `${neck}.${string}:${semitones}`).join();
  const numberOf = new Map(all.map((pulls, number) => [textOf(pulls), number]));
  const from = new Uint32Array(all.length + 1);
  const parts: number[] = [];
  all.forEach((pulls, number) => {
    for (let choice = 1; choice < (1 << pulls.length) - 1; choice++) {
      const part = pulls.filter((_, at) => (choice & (1 << at)) !== 0);
      if (part.some(({ neck }) => neck !== part[0]?.neck)) continue;
      const at = numberOf.get(textOf(part));
      if (at === undefined) throw new Error(`the part ${textOf(part)} is no pull set`);
      parts.push(at);
    }
    from[number + 1] = parts.length;
  });
  return [from, Uint32Array.from(parts)];
}
