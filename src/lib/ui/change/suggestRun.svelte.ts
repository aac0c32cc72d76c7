/**
 * A search for pulls on the page: a pool of workers takes pieces of the candidates one after
 * another, and what they find is joined as it comes in. It can be stopped and taken up again; a
 * piece that was not finished is done again.
 */
import type { Setup } from '$lib/setup/setup';
import { candidatesOn } from '$lib/coverage/candidates';
import {
  joinSuggestions,
  piecesOf,
  type CandidateRange,
  type SuggestQuestion,
  type Suggestions,
} from '$lib/coverage/suggestion';
import { RunWorker } from '$lib/ui/parts/runWorker';
import type { SuggestDesk } from './suggestDesk';

export type RunStatus = 'idle' | 'running' | 'stopped' | 'done';

/** One for each core, and one core left for the page. */
const workersFor = (cores: number): number => Math.max(1, cores - 1);

export class SuggestRun {
  readonly #start: () => Worker;
  readonly #cores: number;
  readonly #now: () => number;
  #workers: RunWorker<SuggestDesk>[] = [];
  #task: { readonly setup: Setup; readonly question: SuggestQuestion } | undefined;
  #left: CandidateRange[] = [];
  /** Milliseconds that were worked before this turn, and when it began. */
  #worked = 0;
  #began = 0;
  #turn = 0;

  status = $state<RunStatus>('idle');
  found = $state.raw<Suggestions | undefined>();
  failure = $state<string | undefined>();
  candidates = $state(0);
  /** Seconds, as far as can be told. */
  secondsLeft = $state<number | undefined>();
  readonly share = $derived(this.candidates === 0 ? 0 : (this.found?.done ?? 0) / this.candidates);

  constructor(start: () => Worker, cores: number, now: () => number) {
    this.#start = start;
    this.#cores = cores;
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
    this.#left = piecesOf([0, count - 1]);
    this.resume();
  }

  resume(): void {
    if (this.#task === undefined || this.#left.length === 0) return;
    this.failure = undefined;
    this.status = 'running';
    this.#began = this.#now();
    const turn = ++this.#turn;
    const many = Math.min(workersFor(this.#cores), this.#left.length);
    this.#workers = Array.from({ length: many }, () => new RunWorker<SuggestDesk>(this.#start));
    for (const worker of this.#workers) void this.#work(worker, turn);
  }

  /** Takes piece after piece until none is left, or the turn is over. */
  async #work(worker: RunWorker<SuggestDesk>, turn: number): Promise<void> {
    const task = this.#task;
    if (task === undefined) return;
    let prepared = false;
    for (;;) {
      if (turn !== this.#turn) return;
      const piece = this.#left.shift();
      if (piece === undefined) return;
      this.#doing.add(piece);
      const part = await worker.ask(async (desk) => {
        if (!prepared) await desk.prepare(task.setup, task.question);
        prepared = true;
        return desk.within(piece);
      });
      // stopped meanwhile: the piece is back among those that are left
      if (turn !== this.#turn) return;
      if (!part.ok) {
        this.stop();
        this.failure = part.error;
        return;
      }
      this.#doing.delete(piece);
      this.#take(part.value);
    }
  }

  readonly #doing = new Set<CandidateRange>();

  #take(part: Suggestions): void {
    this.found = this.found === undefined ? part : joinSuggestions([this.found, part]);
    const { done } = this.found;
    const worked = this.#worked + this.#now() - this.#began;
    this.secondsLeft = ((worked / done) * (this.candidates - done)) / 1000;
    if (done === this.candidates) {
      this.#end();
      this.status = 'done';
    }
  }

  stop(): void {
    if (this.status !== 'running') return;
    this.#left = [...this.#doing, ...this.#left];
    this.#worked += this.#now() - this.#began;
    this.#end();
    this.status = 'stopped';
  }

  #end(): void {
    this.#turn++;
    this.#doing.clear();
    for (const worker of this.#workers) worker.dispose();
    this.#workers = [];
  }

  /** Drops the question and all that was found. */
  forget(): void {
    this.#end();
    this.#task = undefined;
    this.#left = [];
    this.#worked = 0;
    this.candidates = 0;
    this.found = undefined;
    this.failure = undefined;
    this.secondsLeft = undefined;
    this.status = 'idle';
  }
}
