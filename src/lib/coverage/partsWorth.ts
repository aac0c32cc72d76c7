/**
 * What parts of two pull sets give together, Z(U ∪ V) of the proof in `firstBounds.ts`: of grips on which just the
 * strings of a part of the first and a part of the second are moved.
 */
import type { PlainPull } from '$lib/setup/candidates';
import { doneBy, MOST_STRINGS, type MovedStates } from './movedStates';
import type { PairGround } from './pairGround';
import type { SecondSets } from './secondSets';

/** What a pull set moves, by how much. */
export type Pulls = readonly PlainPull[];

/** Pull sets that move the same strings. */
export interface Alike {
  /** The first, and the first of the others behind them. */
  readonly first: number;
  readonly end: number;
  /** Their strings, numbered over all necks, ascending. */
  readonly strings: readonly number[];
  readonly mask: number;
  /** From 0; −1 where there are several. */
  readonly neck: number;
  readonly gain: number;
  readonly heard: number;
  /** How many pulls count at least. */
  readonly counted: number;
}

/** A part of the first pull set, on one neck. */
export interface Part {
  readonly mask: number;
  readonly many: number;
  /** Its own number as a pull set. */
  readonly number: number;
}

const many = (mask: number): number => {
  let count = 0;
  for (let left = mask; left !== 0; left &= left - 1) count++;
  return count;
};

/** The strings that pulls on one neck move, string s in bit s − 1. */
export const maskOf = (pulls: Pulls): number =>
  pulls.reduce((mask, { string }) => mask | (1 << (string - 1)), 0);

const both = (one: number, other: number): number =>
  doneBy(Math.max(0, one, other), Math.min(0, one, other));

/** Pull sets in groups that move the same strings, and how many strings those are over all necks. */
export function alikeIn(sets: SecondSets): { readonly alike: Alike[]; readonly strings: number } {
  const numbers = new Map<string, number>();
  const alike: Alike[] = [];
  for (let first = 0, end = 0; first < sets.count; first = end) {
    while (end < sets.count && sets.strings[end] === sets.strings[first]) end++;
    const pulls = sets.pulls[first] as Pulls;
    const most = (of: ArrayLike<number>): number =>
      Array.from({ length: end - first }, (_, at) => of[first + at] as number).reduce((x, y) =>
        Math.max(x, y),
      );
    alike.push({
      ...{ first, end, mask: maskOf(pulls), neck: sets.necks[first] as number },
      strings: pulls.map(({ neck, string }) => {
        const name = `${neck}.${string}`;
        if (!numbers.has(name)) numbers.set(name, numbers.size);
        return numbers.get(name) as number;
      }),
      gain: most(sets.gains),
      heard: most(sets.heard),
      counted: sets.counted.subarray(first, end).reduce((x, y) => Math.min(x, y)),
    });
  }
  return { alike, strings: numbers.size };
}

/** The parts of a first pull set on a neck, none of them empty. */
export function partsOn(sets: SecondSets, neck: number, first: number): Part[] {
  const numbers = [...sets.parts.subarray(sets.partsFrom[first], sets.partsFrom[first + 1]), first];
  return numbers
    .filter((number) => sets.necks[number] === neck)
    .map((number) => {
      const mask = maskOf(sets.pulls[number] as Pulls);
      return { mask, many: many(mask), number };
    });
}

/** What grips give that hold a string of both; remembered for parts of one string or two. */
export class PartsWorth {
  readonly #ground: PairGround;
  readonly #alike: readonly Alike[];
  /** Pull sets of one string or two: so many come first. */
  readonly #small: number;
  /** By small pull set as a part of a first: what it gives with each small second; and with those of three strings, by `#alike`. */
  readonly #withSmall: (Float64Array | undefined)[] = [];
  readonly #withThree: (Float64Array | undefined)[] = [];
  // what is done to the strings of a neck by the two
  readonly #done: readonly Uint8Array[];

  constructor(ground: PairGround, alike: readonly Alike[], small: number) {
    this.#ground = ground;
    this.#alike = alike;
    this.#small = small;
    const { necks } = ground.question.setup;
    this.#done = necks.map(({ strings }) => new Uint8Array(strings.length));
  }

  /** What a part of one string or two gives with each small second pull set; nothing for one of three. */
  withSmall({ number, many: size }: Part, neck: number): Float64Array | undefined {
    if (size > 2) return undefined;
    let row = this.#withSmall[number];
    if (row === undefined) {
      const { sets } = this.#ground;
      const pulls = sets.pulls[number] as Pulls;
      row = new Float64Array(this.#small);
      for (const each of this.#alike) {
        if (each.first >= this.#small) break;
        if (each.neck !== neck) continue;
        for (let at = each.first; at < each.end; at++)
          row[at] = this.#stateOf(neck, pulls, sets.pulls[at] as Pulls);
      }
      this.#withSmall[number] = row;
    }
    return row;
  }

  /** What all three strings of a first pull set give with small second ones. */
  addWhole(worth: Float64Array, { first: from, end, neck, mask }: Alike, first: number): void {
    const { sets, states } = this.#ground;
    const pulls = sets.pulls[first] as Pulls;
    const all = mask | maskOf(pulls);
    const size = many(all);
    if (size > MOST_STRINGS) return;
    // a string more than the first has, and one that both move
    const isWhatever = size === MOST_STRINGS && many(mask) === 2;
    const whatever = isWhatever ? (states[neck] as MovedStates).whatever(all) : 0;
    for (let at = from; at < end; at++)
      (worth[at] as number) += isWhatever
        ? whatever
        : this.#stateOf(neck, pulls, sets.pulls[at] as Pulls);
  }

  /** What pull sets of three strings give at most by grips that hold all three. */
  withThree(each: Alike, number: number, parts: readonly Part[], own: number): number {
    const { sets, states } = this.#ground;
    const shared = each.mask & own;
    let sum = 0;
    for (const part of parts) {
      const all = part.mask | each.mask;
      const size = many(all);
      if ((part.mask & shared) !== shared || size > MOST_STRINGS) continue;
      if (part.many > 2 || (part.many === 2 && size === MOST_STRINGS)) {
        sum += (states[each.neck] as MovedStates).whatever(all);
        continue;
      }
      const row = (this.#withThree[part.number] ??= new Float64Array(this.#alike.length).fill(-1));
      if ((row[number] as number) < 0) {
        const pulls = sets.pulls[part.number] as Pulls;
        let most = 0;
        for (let at = each.first; at < each.end; at++)
          most = Math.max(most, this.#stateOf(each.neck, pulls, sets.pulls[at] as Pulls));
        row[number] = most;
      }
      sum += row[number] as number;
    }
    return sum;
  }

  /** What a second pull set of three strings gives by grips that hold all three. */
  ofThree(neck: number, first: Pulls, second: Pulls, parts: readonly Part[]): number {
    const mask = maskOf(second);
    const shared = mask & maskOf(first.filter((each) => each.neck === neck + 1));
    let sum = 0;
    for (const part of parts)
      if ((part.mask & shared) === shared && many(part.mask | mask) <= MOST_STRINGS)
        sum += this.#stateOf(neck, this.#ground.sets.pulls[part.number] as Pulls, second);
    return sum;
  }

  /** What grips give on which just the strings of two parts are moved. */
  #stateOf(neck: number, first: Pulls, second: Pulls): number {
    const done = this.#done[neck] as Uint8Array;
    const mask = maskOf(first) | maskOf(second);
    if (many(mask) > MOST_STRINGS) return 0;
    for (const { string, semitones } of first) done[string - 1] = both(semitones, 0);
    for (const { string, semitones } of second) {
      const own = first.find((each) => each.string === string)?.semitones ?? 0;
      done[string - 1] = both(own, semitones);
    }
    return (this.#ground.states[neck] as MovedStates).most(mask, done);
  }
}
