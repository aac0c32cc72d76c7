/**
 * Searches that are asked many times of one piece, with candidates left out or with more to pay: each is done first with
 * those candidates alone that some way near to the best goes through. As no way costs less than it does without what
 * is more to pay, a way found among these that is itself so near is the best of all.
 */
import { bestWays, candidatesWithin, type FoundWay, type WaysQuestion } from './bestWays';
import { narrowedStage, type Stage } from './stage';

/** How much dearer than the best is near, in thousandths; beyond the last everything is searched. */
const SLACKS = [2000, 5000];

/** A question of a piece that is asked again and again, a little otherwise each time. */
export class Nearby {
  readonly #question: WaysQuestion;
  readonly #least: number | undefined;
  readonly #stages = new Map<number, readonly Stage[]>();

  /** @param question asks for one way; its passes may be alike, for then no way costs less than with free ones */
  constructor(question: WaysQuestion) {
    const { passes: _passes, ...free } = question;
    this.#question = free;
    this.#least = bestWays(free)[0]?.cost;
  }

  #within(least: number, slack: number): readonly Stage[] {
    const known = this.#stages.get(slack);
    if (known !== undefined) return known;
    const within = candidatesWithin(this.#question, least, slack);
    const near = new Map<string, Stage>();
    // stages that come again come again as the same ones
    const numbers = new Map<Stage, number>();
    const stages = this.#question.stages.map((stage, at) => {
      const left = within[at] as ReadonlySet<number>;
      if (!numbers.has(stage)) numbers.set(stage, numbers.size);
      const key = `${String(numbers.get(stage))} ${[...left].sort((a, b) => a - b).join(' ')}`;
      const found =
        near.get(key) ?? narrowedStage(stage, (each) => left.has(stage.same[each] as number));
      near.set(key, found);
      return found;
    });
    this.#stages.set(slack, stages);
    return stages;
  }

  /**
   * The best way of a search.
   *
   * @param search over the stages given, or parts of them, at no lower prices than those of the question
   */
  best(search: (stages: readonly Stage[]) => FoundWay | undefined): FoundWay | undefined {
    const least = this.#least;
    if (least !== undefined)
      for (const slack of SLACKS) {
        const way = search(this.#within(least, slack));
        if (way !== undefined && way.cost <= least + slack) return way;
      }
    return search(this.#question.stages);
  }
}
