import { afterPaint } from './afterPaint';

/**
 * Lets a long list grow over several frames: drawn in one go, fifty rows keep a finger waiting on a
 * slow device for longer than it is patient.
 */
export class GrowingList<T> {
  readonly #all: () => readonly T[];
  readonly #of: () => string;
  readonly #step: number;
  #grown = $state.raw<{ readonly of: string; readonly count: number }>({ of: '', count: 0 });

  readonly #count = $derived.by(() =>
    this.#grown.of === this.#of() ? this.#grown.count : this.#step,
  );
  readonly shown = $derived.by(() => this.#all().slice(0, this.#count));
  /** How many there will be. */
  readonly all = $derived.by(() => this.#all().length);
  /** The rest is on its way. */
  readonly growing = $derived.by(() => this.shown.length < this.all);

  /**
   * To be made while a component is set up.
   *
   * @param all the whole list
   * @param of what the list is of: while it says the same, what is drawn stays drawn
   * @param step how many at first, and how many more with every frame
   */
  constructor(all: () => readonly T[], of: () => string, step: number) {
    this.#all = all;
    this.#of = of;
    this.#step = step;
    $effect(() => {
      if (!this.growing) return undefined;
      const next = { of: of(), count: this.#count + step };
      return afterPaint(() => (this.#grown = next));
    });
  }
}
