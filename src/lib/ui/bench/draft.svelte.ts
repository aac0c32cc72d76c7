/** A setup that is worked on in memory, with everything that was done to it. */
import type { Setup } from '$lib/setup/setup';

/** What the Bench needs of a setup that it works on, wherever it is saved. */
export interface Worked {
  readonly value: Setup;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  /** The label of the edit that Undo takes back. */
  readonly undoes: string | undefined;
  readonly redoes: string | undefined;
  edit(next: Setup, label: string, options?: { readonly joins?: boolean }): unknown;
  undo(): void;
  redo(): void;
}

export interface DraftStep {
  readonly value: Setup;
  readonly label: string;
  /** It goes on with what was typed before under the same label. */
  readonly joins: boolean;
}

export class Draft implements Worked {
  #steps = $state.raw<readonly DraftStep[]>([]);
  #at = $state(0);

  constructor(value: Setup) {
    this.#steps = [{ value, label: '', joins: false }];
  }

  get value(): Setup {
    const step = this.#steps[this.#at];
    if (step === undefined) throw new Error(`step ${this.#at} of ${this.#steps.length}`);
    return step.value;
  }
  get canUndo(): boolean {
    return this.#at > 0;
  }
  get canRedo(): boolean {
    return this.#at < this.#steps.length - 1;
  }
  get undoes(): string | undefined {
    return this.canUndo ? this.#steps[this.#at]?.label : undefined;
  }
  get redoes(): string | undefined {
    return this.#steps[this.#at + 1]?.label;
  }
  /** What was done so far, the first edit first. */
  get done(): readonly DraftStep[] {
    return this.#steps.slice(1, this.#at + 1);
  }

  edit(next: Setup, label: string, { joins = false }: { readonly joins?: boolean } = {}): void {
    const last = this.#steps[this.#at];
    const same = joins && this.#at > 0 && last?.label === label;
    const before = this.#steps.slice(0, same ? this.#at : this.#at + 1);
    this.#steps = [...before, { value: next, label, joins }];
    this.#at = before.length;
  }
  undo(): void {
    if (this.canUndo) this.#at--;
  }
  redo(): void {
    if (this.canRedo) this.#at++;
  }
}
