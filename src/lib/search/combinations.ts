/**
 * The reachable combinations of controls as one neck feels them: numbered from 0, cheapest first,
 * with the move of every string. The order is what makes the search cheap: whichever combination
 * meets a pitch first is also the easiest way to it.
 */
import { combinations, type Choice } from '$lib/setup/reach';
import { movesOf } from '$lib/setup/sounding';
import type { Engaged, Setup } from '$lib/setup/setup';

/** The effort of holding a combination; letting a control go must never make it dearer. */
export type CostOf = (engaged: Choice) => number;

export interface NeckCombinations {
  /** Neck number, from 1. */
  readonly neck: number;
  readonly strings: number;
  /** Every reachable combination of the setup, cheapest first. */
  readonly engaged: readonly Choice[];
  /** The effort of each, in the unit of the `CostOf` that was given. */
  readonly cost: Float64Array;
  /** Semitones, at `combination * strings + string` (string from 0). */
  readonly moves: Int8Array;
  /** For each combination those that are left when one control of it is let go, where reachable. */
  readonly released: readonly (readonly number[])[];
  /** The first combination for every different set of moves on this neck, cheapest first. */
  readonly distinct: Uint32Array;
}

/**
 * A combination as one number: control c (from 0, of at most 20) at full is 4^c, at half 2 · 4^c. The
 * sums stay exact, for 4^20 is below 2^53; letting a control go is a subtraction.
 */
const weightsIn = (setup: Setup): ((each: Engaged) => number) => {
  const full = new Map(setup.controls.map(({ id }, index) => [id, 4 ** index]));
  return ({ id, state }) => (state === 'half' ? 2 : 1) * (full.get(id) ?? 0);
};

/** Walks the reachable combinations once and orders them. */
export function combinationsOn(setup: Setup, neck: number, costOf: CostOf): NeckCombinations {
  const strings = setup.necks[neck - 1]?.strings.length;
  if (strings === undefined) throw new Error(`neck ${neck} of a setup with ${setup.necks.length}`);

  // equal costs: fewer controls first, then the order of the walk, so that the order is total
  const walked = [...combinations(setup)].map((engaged, walk) => ({
    engaged,
    walk,
    cost: costOf(engaged),
  }));
  walked.sort((a, b) => a.cost - b.cost || a.engaged.length - b.engaged.length || a.walk - b.walk);

  const moves = new Int8Array(walked.length * strings);
  const weightOf = weightsIn(setup);
  const sumOf = (engaged: Choice): number => engaged.reduce((sum, each) => sum + weightOf(each), 0);
  const numberOf = new Map<number, number>();
  const firstWith = new Map<string, number>();
  walked.forEach(({ engaged }, number) => {
    const row = movesOf(setup, neck, engaged);
    moves.set(row, number * strings);
    numberOf.set(sumOf(engaged), number);
    const key = row.join();
    if (!firstWith.has(key)) firstWith.set(key, number);
  });

  return {
    neck,
    strings,
    engaged: walked.map((each) => each.engaged),
    cost: Float64Array.from(walked, (each) => each.cost),
    moves,
    released: walked.map(({ engaged }) => {
      const sum = sumOf(engaged);
      return engaged.flatMap((each) => numberOf.get(sum - weightOf(each)) ?? []);
    }),
    distinct: Uint32Array.from(firstWith.values()),
  };
}

/** By string and move: the combinations that move the string so, one bit each. */
type Holding = readonly ReadonlyMap<number, Uint32Array>[];

const holdings = new WeakMap<NeckCombinations, Holding>();

/** Made when a neck's ways are first asked for, then kept with it. */
function holdingOf(on: NeckCombinations): Holding {
  let holding = holdings.get(on);
  if (holding === undefined) {
    const words = Math.ceil(on.engaged.length / 32);
    holding = Array.from({ length: on.strings }, (_, s) => {
      const byMove = new Map<number, Uint32Array>();
      for (let number = 0; number < on.engaged.length; number++) {
        const move = on.moves[number * on.strings + s] ?? 0;
        let bits = byMove.get(move);
        if (bits === undefined) byMove.set(move, (bits = new Uint32Array(words)));
        bits[number >> 5] = (bits[number >> 5] as number) | (1 << (number & 31));
      }
      return byMove;
    });
    holdings.set(on, holding);
  }
  return holding;
}

/**
 * The ways to a voicing: every combination that moves the chosen strings just as `like` does, and in
 * which no control could be let go, what remains being reachable, without changing one of them.
 * Cheapest first. `grip` holds string s (from 0) in bit s. A setup can have tens of thousands of
 * combinations, so they are met thirty-two at a time.
 */
export function waysLike(on: NeckCombinations, like: number, grip: number): Choice[] {
  const holding = holdingOf(on);
  const same = new Uint32Array(Math.ceil(on.engaged.length / 32)).fill(0xffffffff);
  for (let s = 0; s < on.strings; s++) {
    if ((grip & (1 << s)) === 0) continue;
    const bits = holding[s]?.get(on.moves[like * on.strings + s] ?? 0);
    for (let word = 0; word < same.length; word++)
      same[word] = (same[word] as number) & (bits?.[word] ?? 0);
  }
  const isSame = (number: number): boolean =>
    ((same[number >> 5] as number) & (1 << (number & 31))) !== 0;
  const ways: Choice[] = [];
  for (let word = 0; word < same.length; word++) {
    if (same[word] === 0) continue;
    for (let number = word * 32; number < Math.min(on.engaged.length, word * 32 + 32); number++)
      if (isSame(number) && !on.released[number]?.some(isSame))
        ways.push(on.engaged[number] as Choice);
  }
  return ways;
}
