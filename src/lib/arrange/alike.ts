/**
 * The exact best ways of a piece in which all passes of a repeat are played alike: with the same candidates. What
 * stays although nothing needs it may be another thing in each pass, for nobody hears it; so a way costs the least over
 * all that may stay in the order of playing (`asHeld.ts`).
 *
 * No way that is alike costs less than the best of all ways with free passes, and none that goes through a candidate
 * less than the best free way through it. So all of it is done with those candidates alone, few as a rule, through which
 * a free way goes in every pass that is dearer than the best by no more than so much: if the last of the ways found
 * is no dearer than that, no other candidate is needed, and else it is done once more with as much as that one is.
 *
 * What is left is searched along the seams (`alongSeams.ts`) with rows for the passes (`perPass.ts`).
 *
 * Where it takes very long all the same the best ways known are given, each with what it may cost too much.
 */
import { AlongSeams } from './alongSeams';
import { asHeld } from './asHeld';
import { stagesTogether, writtenOrder } from './asWritten';
import { throughWithin, type FoundWay, type WaysQuestion } from './bestWays';
import { NEVER } from './moveCosts';
import { writtenPerPass } from './perPass';
import { narrowedStage, type Stage } from './stage';

/** Thousandths above the best free way within which ways are looked for first. */
const SLACK = 2000;

/**
 * The best ways in which stages of one number are played by the same candidate.
 *
 * @param question with `passes`
 * @param solve the plain search
 */
export function bestAlike(
  question: WaysQuestion,
  solve: (question: WaysQuestion) => FoundWay[],
): FoundWay[] {
  const { passes = [], most, ...free } = question;
  const order = writtenOrder(passes);
  const all = stagesTogether(question, order);
  if (all.some(({ stage }) => stage.layer.count === 0)) return [];
  for (let slack = SLACK; ;) {
    const { least, through } = throughWithin({ ...free, most: 1 }, slack);
    const near = all.map(({ stage, efforts }, at) => ({
      efforts,
      stage: narrowedStage(stage, (each) =>
        (order.visits[at] ?? []).every((time) => through[time]?.has(stage.same[each] as number)),
      ),
    }));
    const isAll = near.every(({ stage }, at) => stage.layer.count === all[at]?.stage.layer.count);
    const perPass = near.every(({ stage }) => stage.layer.count > 0)
      ? writtenPerPass(question, order, near)
      : undefined;
    const found =
      perPass === undefined ? undefined : new AlongSeams(perPass.written, question, solve).best();
    const last = found?.ways[most - 1];
    const isShort = found !== undefined && (found.least < NEVER || perPass?.isWhole === false);
    // no way through other candidates is as good as the last one
    if (isAll || isShort || (last !== undefined && last.cost <= least + slack))
      return (found?.ways ?? []).map((way) => {
        const candidates = order.at.map(
          (stage) => perPass?.candidates[stage]?.[way.candidates[stage] as number] as number,
        );
        const unrolled = unrolledWay(question, candidates);
        if (!isShort) return unrolled;
        // what was not looked at costs no less than the best of all, or than its bound
        const short =
          unrolled.cost - (perPass?.isWhole === true && isAll ? (found?.least ?? 0) : least);
        return short <= 0 ? unrolled : { ...unrolled, short };
      });
    slack = last === undefined ? slack * 3 : last.cost - least;
  }
}

/** Chosen candidates in the order of playing, as they are held. */
function unrolledWay(question: WaysQuestion, chosen: readonly number[]): FoundWay {
  const candidates = Int32Array.from(chosen);
  if (question.apart !== 'positions')
    return { ...asHeld(question, candidates), candidates, places: candidates };
  const places = candidates.map((candidate, at) => {
    const { same, place } = question.stages[at] as Stage;
    return place[same.indexOf(candidate)] as number;
  });
  return { ...asHeld(question, candidates), candidates, places };
}
