/**
 * Searches that are asked many times of one piece, with candidates left out or with more to pay: each is done first with
 * those candidates alone that some way near to the best goes through. As no way costs less than it does without what
 * is more to pay, a way found among these that is itself so near is the best of all.
 */
import { throughWithin, type FoundWay, type Through, type WaysQuestion } from './bestWays';
import { narrowedStage, type Stage } from './stage';

/** How much dearer than the best is near, in thousandths; beyond the last everything is searched. */
const SLACKS = [2000, 5000, 12_000];

/** A question of a piece that is asked again and again, a little otherwise each time. */
export class Nearby {
  readonly #question: WaysQuestion;
  readonly #through = new Map<number, Through>();
  readonly #stages = new Map<number, readonly Stage[]>();

  /** @param question asks for one way; its passes may be alike, for then no way costs less than with free ones */
  constructor(question: WaysQuestion) {
    const { passes: _passes, ...free } = question;
    this.#question = free;
  }

  #within(slack: number): Through {
    const known = this.#through.get(slack) ?? throughWithin(this.#question, slack);
    this.#through.set(slack, known);
    return known;
  }

  /** What the best way with free passes costs. */
  get least(): number {
    return this.#within(SLACKS[0] as number).least;
  }

  /** The stages with what is so near alone. */
  #near(slack: number): readonly Stage[] {
    const known = this.#stages.get(slack);
    if (known !== undefined) return known;
    const { through } = this.#within(slack);
    const near = new Map<string, Stage>();
    // stages that come again come again as the same ones
    const numbers = new Map<Stage, number>();
    const stages = this.#question.stages.map((stage, at) => {
      const left = through[at] as ReadonlyMap<number, number>;
      if (!numbers.has(stage)) numbers.set(stage, numbers.size);
      const key = `${String(numbers.get(stage))} ${[...left.keys()].sort((a, b) => a - b).join(' ')}`;
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
   * @param from how near to begin with
   */
  best(search: (stages: readonly Stage[]) => FoundWay | undefined, from = 0): FoundWay | undefined {
    for (const slack of SLACKS) {
      if (slack < from) continue;
      const way = search(this.#near(slack));
      if (way !== undefined && way.cost <= this.least + slack) return way;
    }
    return search(this.#question.stages);
  }
}
