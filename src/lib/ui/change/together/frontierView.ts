/** The frontier as a picture: a step for each string more, and what it adds, in words. */
import type { ToldTogether } from '$lib/coverage/foundTogether';

/** One step of it. */
export interface FrontierStep {
  readonly strings: number;
  readonly score: string;
  /** What this string more adds over the best with fewer; empty at the first, and where it adds nothing. */
  readonly more: string;
  /** Of the height of the picture, 0 … 1. */
  readonly height: number;
  readonly choice: ToldTogether;
}

/** Steps with fewest strings first. */
export function frontierSteps(frontier: readonly ToldTogether[]): FrontierStep[] {
  const most = frontier.reduce((highest, { score }) => Math.max(highest, score), 0);
  let before = 0;
  return frontier.map((choice, at) => {
    const { strings, score } = choice;
    const more = at === 0 || score <= before ? '' : `+${(score - before).toFixed(1)}`;
    before = Math.max(before, score);
    return {
      strings,
      score: score.toFixed(1),
      more,
      height: most === 0 ? 0 : score / most,
      choice,
    };
  });
}
