/** A setup in memory alone: one that is lent, until the first edit makes a copy of it. */
import type { Setup } from '$lib/setup/setup';
import type { Joins } from '$lib/storage/storedDocument';

/** What the Bench needs of a setup that it works on, wherever it is saved. */
export interface Worked {
  readonly value: Setup;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  /** The label of the edit that Undo takes back. */
  readonly undoes: string | undefined;
  readonly redoes: string | undefined;
  edit(
    next: Setup,
    label: string,
    options?: { readonly joins?: Joins; readonly paused?: number },
  ): unknown;
  undo(): void;
  redo(): void;
}

interface DraftStep {
  readonly value: Setup;
  readonly label: string;
}

export class Draft implements Worked {
  #steps = $state.raw<readonly DraftStep[]>([]);
  #at = $state(0);

  constructor(value: Setup) {
    this.#steps = [{ value, label: '' }];
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
  edit(next: Setup, label: string, { joins = false }: { readonly joins?: Joins } = {}): void {
    const last = this.#steps[this.#at];
    const same =
      this.#at > 0 && joins !== false && last?.label === (joins === true ? label : joins);
    const before = this.#steps.slice(0, same ? this.#at : this.#at + 1);
    this.#steps = [...before, { value: next, label }];
    this.#at = before.length;
  }
  undo(): void {
    if (this.canUndo) this.#at--;
  }
  redo(): void {
    if (this.canRedo) this.#at++;
  }
}
