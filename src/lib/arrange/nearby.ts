/**
 * Searches that are asked many times of one piece, with candidates left out or with more to pay: each is done first with
 * those candidates alone that some way near to the best goes through. As no way costs less than it does without what
 * is more to pay, a way found among these that is itself so near is the best of all.
 */
import { throughWithin, type FoundWay, type Through, type WaysQuestion } from './bestWays';
import { narrowedStage, type Stage } from './stage';

/** How much dearer than the best is near, in thousandths: what is farther is rarely asked for, and costs as much to tell. */
const NEAR = 4000;

/** A question of a piece that is asked again and again, a little otherwise each time. */
export class Nearby {
  readonly #question: WaysQuestion;
  #through: Through | undefined;
  #stages: readonly Stage[] | undefined;

  /** @param question asks for one way; its passes may be alike, for then no way costs less than with free ones */
  constructor(question: WaysQuestion) {
    const { passes: _passes, ...free } = question;
    this.#question = free;
  }

  get #within(): Through {
    return (this.#through ??= throughWithin(this.#question, NEAR));
  }

  /** No way costs less than this. */
  get least(): number {
    return this.#within.least;
  }

  /** No way through one of these candidates costs less than this; those of one stage, in its whole layer. */
  boundOf(at: number, candidates: Iterable<number>): number {
    const { least, through } = this.#within;
    let bound = least + NEAR;
    for (const each of candidates) bound = Math.min(bound, through[at]?.get(each) ?? bound);
    return bound;
  }

  /** The stages with what is near alone. */
  get stages(): readonly Stage[] {
    if (this.#stages !== undefined) return this.#stages;
    const { through } = this.#within;
    const near = new Map<string, Stage>();
    // stages that come again come again as the same ones
    const numbers = new Map<Stage, number>();
    return (this.#stages = this.#question.stages.map((stage, at) => {
      const left = through[at] as ReadonlyMap<number, number>;
      if (!numbers.has(stage)) numbers.set(stage, numbers.size);
      const key = `${String(numbers.get(stage))} ${[...left.keys()].sort((a, b) => a - b).join(' ')}`;
      const found =
        near.get(key) ?? narrowedStage(stage, (each) => left.has(stage.same[each] as number));
      near.set(key, found);
      return found;
    }));
  }

  /**
   * The best way of a search.
   *
   * @param search over the stages given, or parts of them, at no lower prices than those of the question
   */
  best(search: (stages: readonly Stage[]) => FoundWay | undefined): FoundWay | undefined {
    const way = search(this.stages);
    if (way !== undefined && way.cost <= this.least + NEAR) return way;
    return search(this.#question.stages);
  }
}
