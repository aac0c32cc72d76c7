/**
 * The reachable combinations of controls as one neck feels them: numbered from 0, cheapest first,
 * with the move of every string. The order is what makes the search cheap: whichever combination
 * meets a pitch first is also the easiest way to it.
 */
import { combinations, type Choice } from '$lib/setup/reach';
import { pullIn, type Engaged, type Setup } from '$lib/setup/setup';
import type { Grip } from './grip';

/** The effort of holding a combination; letting a control go must never make it dearer. */
export type CostOf = (engaged: Choice) => number;

/** Everything that the legs can hold, whatever neck is played. */
export interface Reachable {
  /** Every reachable combination of a setup, cheapest first. */
  readonly engaged: readonly Choice[];
  /** The effort of each, in the unit of the `CostOf` that was given. */
  readonly cost: Float64Array;
  /** For each combination those that are left when one control of it is let go, where reachable. */
  readonly released: readonly (readonly number[])[];
}

/**
 * A combination as one number: control c (from 0, of at most 20) at full is 4^c, at half 2 · 4^c. The
 * sums stay exact, for 4^20 is below 2^53; letting a control go is a subtraction.
 */
const weightsIn = (setup: Setup): ((each: Engaged) => number) => {
  const full = new Map(setup.controls.map(({ id }, index) => [id, 4 ** index]));
  return ({ id, state }) => (state === 'half' ? 2 : 1) * (full.get(id) ?? 0);
};

/** Walks the reachable combinations of a setup once and orders them. */
export function reachable(setup: Setup, costOf: CostOf): Reachable {
  const walked = [...combinations(setup)];
  const many = walked.length;
  const costs = Float64Array.from(walked, costOf);
  const order = new Uint32Array(many);
  for (let walk = 0; walk < many; walk++) order[walk] = walk;
  // equal costs: fewer controls first, then the order of the walk, so that the order is total
  order.sort(
    (a, b) =>
      (costs[a] as number) - (costs[b] as number) ||
      (walked[a] as Choice).length - (walked[b] as Choice).length ||
      a - b,
  );

  const engaged: Choice[] = [];
  const cost = new Float64Array(many);
  const weightOf = weightsIn(setup);
  const numberOf = new Map<number, number>();
  const sums = new Float64Array(many);
  for (let number = 0; number < many; number++) {
    const walk = order[number] as number;
    const choice = walked[walk] as Choice;
    engaged.push(choice);
    cost[number] = costs[walk] as number;
    let sum = 0;
    for (const each of choice) sum += weightOf(each);
    sums[number] = sum;
    numberOf.set(sum, number);
  }
  const released: number[][] = [];
  for (let number = 0; number < many; number++) {
    const rests: number[] = [];
    for (const each of engaged[number] as Choice) {
      const rest = numberOf.get((sums[number] as number) - weightOf(each));
      if (rest !== undefined) rests.push(rest);
    }
    released.push(rests);
  }
  return { engaged, cost, released };
}

/** By combination and string of a neck: the semitones that it is moved, in one flat column; and what is split. */
function movesOn(setup: Setup, neck: number, engaged: readonly Choice[], strings: number) {
  const pullsOf = new Map(
    setup.controls.map(({ id, pulls }) => [id, pulls.filter((pull) => pull.neck === neck)]),
  );
  const moves = new Int8Array(engaged.length * strings);
  const splits = new Uint16Array(engaged.length);
  const raise = new Int8Array(strings);
  const lower = new Int8Array(strings);
  // as `movesOf` says: of several raises the farthest counts, and of several lowers
  for (let number = 0; number < engaged.length; number++) {
    raise.fill(0);
    lower.fill(0);
    for (const { id, state } of engaged[number] as Choice)
      for (const pull of pullsOf.get(id) ?? []) {
        const move = pullIn(pull, state);
        const s = pull.string - 1;
        if (move > (raise[s] as number)) raise[s] = move;
        else if (move < (lower[s] as number)) lower[s] = move;
      }
    const row = number * strings;
    let split = 0;
    for (let s = 0; s < strings; s++) {
      const [up, down] = [raise[s] as number, lower[s] as number];
      moves[row + s] = up + down;
      if (up > 0 && down < 0) split |= 1 << s;
    }
    splits[number] = split;
  }
  return { moves, splits };
}

/** A combination that has one control more than another. */
export interface OneMore {
  readonly combination: number;
  readonly control: Engaged;
  /** The strings that this moves otherwise, string s (from 0) in bit s. */
  readonly moved: number;
}

/** The reachable combinations as one neck feels them. */
export class NeckCombinations {
  /** Neck number, from 1. */
  readonly neck: number;
  readonly strings: number;
  readonly engaged: readonly Choice[];
  readonly released: readonly (readonly number[])[];
  /** Semitones, at `combination * strings + string` (string from 0). */
  readonly moves: Int8Array;
  /** By combination: the strings that it both raises and lowers, string s (from 0) in bit s. */
  readonly splits: Uint16Array;
  /** The first combination for every different set of moves on this neck, cheapest first. */
  readonly distinct: Uint32Array;
  /** By string and move: the combinations that move the string so, one bit each. */
  #moving: readonly ReadonlyMap<number, Uint32Array>[] | undefined;
  #oneMore: readonly (readonly OneMore[])[] | undefined;
  /** By control: its bit, and the strings that it pulls. */
  readonly #movedBy: ReadonlyMap<string, { readonly bit: number; readonly strings: number[] }>;
  readonly #movers: Uint32Array[] = [];

  constructor(setup: Setup, neck: number, { engaged, released }: Reachable) {
    const strings = setup.necks[neck - 1]?.strings.length;
    if (strings === undefined)
      throw new Error(`neck ${neck} of a setup with ${setup.necks.length}`);
    this.neck = neck;
    this.strings = strings;
    this.engaged = engaged;
    this.released = released;
    const { moves, splits } = movesOn(setup, neck, engaged, strings);
    this.moves = moves;
    this.splits = splits;
    this.distinct = firstOfEach(this.moves, strings);
    this.#movedBy = new Map(
      setup.controls.map(({ id, pulls }, number) => {
        const own = pulls.filter((pull) => pull.neck === neck).map(({ string }) => string);
        return [id, { bit: 1 << number, strings: own }];
      }),
    );
  }

  /**
   * What moves each string (from 0) in a combination: control c of the setup in bit c, whether or not another one
   * moves the string back.
   */
  moversIn(combination: number): Uint32Array {
    const known = this.#movers[combination];
    if (known !== undefined) return known;
    const movers = new Uint32Array(this.strings);
    for (const { id } of this.engaged[combination] ?? []) {
      const { bit, strings } = this.#movedBy.get(id) ?? { bit: 0, strings: [] };
      for (const string of strings) movers[string - 1] = (movers[string - 1] as number) | bit;
    }
    return (this.#movers[combination] = movers);
  }

  /** Made when ways are first asked for. */
  #movingSo(): readonly ReadonlyMap<number, Uint32Array>[] {
    const words = Math.ceil(this.engaged.length / 32);
    return Array.from({ length: this.strings }, (_, s) => {
      const byMove = new Map<number, Uint32Array>();
      for (let number = 0; number < this.engaged.length; number++) {
        const move = this.moves[number * this.strings + s] ?? 0;
        let bits = byMove.get(move);
        if (bits === undefined) byMove.set(move, (bits = new Uint32Array(words)));
        bits[number >> 5] = (bits[number >> 5] as number) | (1 << (number & 31));
      }
      return byMove;
    });
  }

  /** By combination: those that have one control more, ascending. Made when they are first asked for. */
  get oneMore(): readonly (readonly OneMore[])[] {
    if (this.#oneMore !== undefined) return this.#oneMore;
    const more = this.engaged.map((): OneMore[] => []);
    for (let combination = 0; combination < this.released.length; combination++)
      for (const left of this.released[combination] ?? []) {
        const few = this.engaged[left] ?? [];
        const control = this.engaged[combination]?.find(
          ({ id }) => !few.some((each) => each.id === id),
        );
        if (control === undefined) continue;
        more[left]?.push({ combination, control, moved: this.#apart(left, combination) });
      }
    return (this.#oneMore = more);
  }

  /** The strings that two combinations move differently. */
  #apart(a: number, b: number): Grip {
    const { moves, strings } = this;
    let moved = 0;
    for (let s = 0; s < strings; s++)
      if (moves[a * strings + s] !== moves[b * strings + s]) moved |= 1 << s;
    return moved;
  }

  /**
   * The ways to a voicing: every combination that moves the chosen strings just as `like` does, and
   * in which no control could be let go, what remains being reachable, without changing one of them.
   * Their numbers, ascending, so cheapest first. A setup can have tens of thousands of combinations,
   * so they are met thirty-two at a time.
   */
  waysLike(like: number, grip: Grip): number[] {
    const moving = (this.#moving ??= this.#movingSo());
    const many = this.engaged.length;
    const same = new Uint32Array(Math.ceil(many / 32)).fill(0xffffffff);
    for (let s = 0; s < this.strings; s++) {
      if ((grip & (1 << s)) === 0) continue;
      const bits = moving[s]?.get(this.moves[like * this.strings + s] ?? 0);
      for (let word = 0; word < same.length; word++)
        same[word] = (same[word] as number) & (bits?.[word] ?? 0);
    }
    const isSame = (number: number): boolean =>
      ((same[number >> 5] as number) & (1 << (number & 31))) !== 0;
    const ways: number[] = [];
    for (let word = 0; word < same.length; word++) {
      if (same[word] === 0) continue;
      for (let number = word * 32; number < Math.min(many, word * 32 + 32); number++)
        if (isSame(number) && !this.released[number]?.some(isSame)) ways.push(number);
    }
    return ways;
  }
}

/** Moves lie between −7 and 7 semitones: a split is a raise and a lower, and comes to no more. */
const MOVES = 16;

/**
 * The first of every different row of moves, ascending. String by string the rows fall into classes; the
 * classes are numbered on from string to string, so that what an earlier string left is never met again.
 */
function firstOfEach(moves: Int8Array, strings: number): Uint32Array {
  const many = moves.length / strings;
  const classes = new Uint32Array(many);
  const split = new Uint32Array(many * MOVES);
  let first = 1;
  let next = 1;
  for (let s = 0; s < strings; s++) {
    first = next;
    for (let number = 0, at = s; number < many; number++, at += strings) {
      const key = (classes[number] as number) * MOVES + (moves[at] as number) + MOVES / 2;
      let child = split[key] as number;
      if (child < first) split[key] = child = next++;
      classes[number] = child - first;
    }
  }
  const distinct = new Uint32Array(next - first);
  let met = 0;
  for (let number = 0; number < many; number++)
    if (classes[number] === met) distinct[met++] = number;
  return distinct;
}
