/**
 * A search for pulls on the page: the engine's workers take pieces of the candidates one after another,
 * and what they find is shown as it comes in. It can be stopped and taken up again.
 */
import type { Result } from '$lib/result';
import { candidatesOn } from '$lib/setup/candidates';
import type { Setup } from '$lib/setup/setup';
import type { CandidateRange, SuggestQuestion, Suggestions } from '$lib/coverage/suggestion';
import { SuggestWork } from '$lib/coverage/suggestWork';

export type RunStatus = 'idle' | 'running' | 'stopped' | 'done';

/** Milliseconds between what is shown of a search that goes on: more often is more than can be read. */
const SHOWN_EVERY = 250;

/** Those who try pull sets. */
export interface Trying {
  /** How many pieces they take at once. */
  readonly hands: number;
  within(
    setup: Setup,
    question: SuggestQuestion,
    range: CandidateRange,
    least?: number,
  ): Promise<Result<Suggestions, string>>;
  /** What they are at is wanted no more. */
  stop(): void;
}

export class SuggestRun {
  readonly #trying: Trying;
  readonly #now: () => number;
  #task: { readonly setup: Setup; readonly question: SuggestQuestion } | undefined;
  #work: SuggestWork | undefined;
  /** Milliseconds that were worked before this turn, and when it began. */
  #worked = 0;
  #began = 0;
  #shown = -Infinity;

  status = $state<RunStatus>('idle');
  found = $state.raw<Suggestions | undefined>();
  failure = $state<string | undefined>();
  candidates = $state(0);
  /** Seconds, as far as can be told. */
  secondsLeft = $state<number | undefined>();
  readonly share = $derived(this.candidates === 0 ? 0 : (this.found?.done ?? 0) / this.candidates);

  constructor(trying: Trying, now: () => number) {
    this.#trying = trying;
    this.#now = now;
  }

  /** Begins anew. */
  begin(setup: Setup, question: SuggestQuestion): void {
    this.forget();
    const { count } = candidatesOn(setup, question);
    this.#task = { setup, question };
    this.candidates = count;
    if (count === 0) {
      this.failure = 'No string may be moved, so there is nothing to try.';
      return;
    }
    this.#work = new SuggestWork([0, count - 1], (soFar) => this.#take(soFar));
    this.resume();
  }

  resume(): void {
    const [task, work] = [this.#task, this.#work];
    if (task === undefined || work === undefined || work.left === 0) return;
    this.failure = undefined;
    this.status = 'running';
    this.#began = this.#now();
    const run = work.run(this.#trying.hands, async (piece, least) => {
      const part = await this.#trying.within(task.setup, task.question, piece, least);
      if (!part.ok) throw new Error(part.error);
      return part.value;
    });
    run.catch((error: unknown) => {
      if (work !== this.#work) return;
      this.stop();
      this.failure = error instanceof Error ? error.message : String(error);
    });
  }

  #take(soFar: Suggestions): void {
    const now = this.#now();
    if (soFar.done === this.candidates) this.status = 'done';
    else if (now - this.#shown < SHOWN_EVERY) return;
    this.#show(now);
  }

  #show(now: number): void {
    const soFar = this.#work?.soFar;
    if (soFar === undefined) return;
    this.#shown = now;
    this.found = soFar;
    const { done } = this.found;
    const worked = this.#worked + now - this.#began;
    this.secondsLeft = ((worked / done) * (this.candidates - done)) / 1000;
  }

  stop(): void {
    if (this.status !== 'running') return;
    this.#work?.stop();
    this.#trying.stop();
    const now = this.#now();
    this.#show(now);
    this.#worked += now - this.#began;
    this.status = 'stopped';
  }

  /** Drops the question and all that was found. */
  forget(): void {
    if (this.status === 'running') this.#trying.stop();
    this.#work?.stop();
    this.#work = undefined;
    this.#task = undefined;
    this.#worked = 0;
    this.candidates = 0;
    this.found = undefined;
    this.#shown = -Infinity;
    this.failure = undefined;
    this.secondsLeft = undefined;
    this.status = 'idle';
  }
}
