/** The fewest moves of a kind that a piece can be played with, and what ways with so few go through. */
import type { WaysQuestion } from './bestWays';
import type { Coded, Counted } from './moveCosts';
import { narrowedStage, type Stage } from './stage';

/** What a stage has at a place of the bar: the fewest moves so far, and the fewest with other controls than these. */
interface AtBar {
  fewest: number;
  needs: number;
  otherwise: number;
}

/** By position of a stage: the fewest moves to it, of the fewest to those of the stage before it. */
function movesOn(before: Int32Array, from: Coded, to: Coded, count: number, what: Counted) {
  const bars = new Map<number, AtBar>();
  let least = Infinity;
  before.forEach((moves, position) => {
    least = Math.min(least, moves);
    const bar = from.bar[position] as number;
    const needs = from.needs[position] as number;
    const there = bars.get(bar);
    if (there === undefined) bars.set(bar, { fewest: moves, needs, otherwise: Infinity });
    else if (moves < there.fewest) {
      if (needs !== there.needs) there.otherwise = there.fewest;
      [there.fewest, there.needs] = [moves, needs];
    } else if (needs !== there.needs) there.otherwise = Math.min(there.otherwise, moves);
  });
  // controls that stay as they are under a bar that stays are no pull, unless it is the same chord
  const counts = what !== 'bar moves' && from.whole !== to.whole;
  return Int32Array.from({ length: count }, (_, position) => {
    const there = bars.get(to.bar[position] as number);
    if (there === undefined) return least + 1;
    const isOther = !counts || there.needs !== to.needs[position];
    return Math.min(least + 1, isOther ? there.fewest : there.otherwise);
  });
}

/** The fewest moves of a kind, and the stages with what ways with no more than so many go through. */
export function fewMoves(
  { stages, costs }: WaysQuestion,
  what: Counted,
): { least: number; stagesWith: (moves: number) => Stage[] } {
  const codes = stages.map((stage) => costs.codesOf(stage));
  const counts = stages.map(({ layer }) => layer.positions.length);
  const along = (order: readonly number[]): Int32Array[] => {
    const moves: Int32Array[] = [];
    order.forEach((at, place) => {
      const before = order[place - 1];
      moves[at] =
        before === undefined
          ? new Int32Array(counts[at] as number)
          : movesOn(
              moves[before] as Int32Array,
              codes[before] as Coded,
              codes[at] as Coded,
              counts[at] as number,
              what,
            );
    });
    return moves;
  };
  const order = [...stages.keys()];
  const [to, from] = [along(order), along(order.toReversed())];
  return {
    least: Math.min(...(to.at(-1) ?? [0])),
    stagesWith: (most) => {
      const known = new Map<string, Stage>();
      return stages.map((stage, at) => {
        const isIn =
          counts[at] === 0
            ? []
            : [...(to[at] as Int32Array)].map(
                (moves, position) => moves + (from[at]?.[position] as number) <= most,
              );
        const key = `${stages.indexOf(stage)} ${isIn.map(Number).join('')}`;
        const left =
          known.get(key) ??
          narrowedStage(stage, (each) => isIn[stage.layer.position[each] as number] === true);
        known.set(key, left);
        return left;
      });
    },
  };
}
