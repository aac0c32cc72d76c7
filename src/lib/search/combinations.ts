/**
 * The reachable combinations of controls as one neck feels them: numbered from 0, cheapest first,
 * with the move of every string. The order is what makes the search cheap: whichever combination
 * meets a pitch first is also the easiest way to it.
 */
import { combinations, type Choice } from '$lib/setup/reach';
import { movesOf } from '$lib/setup/sounding';
import type { Engaged, Setup } from '$lib/setup/setup';
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
  // equal costs: fewer controls first, then the order of the walk, so that the order is total
  const walked = [...combinations(setup)].map((engaged, walk) => ({
    engaged,
    walk,
    cost: costOf(engaged),
  }));
  walked.sort((a, b) => a.cost - b.cost || a.engaged.length - b.engaged.length || a.walk - b.walk);

  const weightOf = weightsIn(setup);
  const sums = walked.map(({ engaged }) => engaged.reduce((sum, each) => sum + weightOf(each), 0));
  const numberOf = new Map(sums.map((sum, number) => [sum, number]));
  return {
    engaged: walked.map(({ engaged }) => engaged),
    cost: Float64Array.from(walked, ({ cost }) => cost),
    released: walked.map(({ engaged }, number) =>
      engaged.flatMap((each) => numberOf.get((sums[number] ?? 0) - weightOf(each)) ?? []),
    ),
  };
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
  /** The first combination for every different set of moves on this neck, cheapest first. */
  readonly distinct: Uint32Array;
  /** By string and move: the combinations that move the string so, one bit each. */
  #moving: readonly ReadonlyMap<number, Uint32Array>[] | undefined;

  constructor(setup: Setup, neck: number, { engaged, released }: Reachable) {
    const strings = setup.necks[neck - 1]?.strings.length;
    if (strings === undefined)
      throw new Error(`neck ${neck} of a setup with ${setup.necks.length}`);
    this.neck = neck;
    this.strings = strings;
    this.engaged = engaged;
    this.released = released;
    this.moves = new Int8Array(engaged.length * strings);
    const firstWith = new Map<string, number>();
    engaged.forEach((combination, number) => {
      const row = movesOf(setup, neck, combination);
      this.moves.set(row, number * strings);
      const key = row.join();
      if (!firstWith.has(key)) firstWith.set(key, number);
    });
    this.distinct = Uint32Array.from(firstWith.values());
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
