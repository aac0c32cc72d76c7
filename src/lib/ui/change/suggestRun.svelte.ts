/**
 * A search for pulls on the page: a pool of workers takes pieces of the candidates one after
 * another, and what they find is joined as it comes in. It can be stopped and taken up again; a
 * piece that was not finished is done again.
 */
import type { Setup } from '$lib/setup/setup';
import { candidatesOn } from '$lib/setup/candidates';
import {
  joinSuggestions,
  piecesOf,
  type CandidateRange,
  type SuggestQuestion,
  type Suggestions,
} from '$lib/coverage/suggestion';
import { DeskClient } from '$lib/ui/parts/deskClient';
import type { SuggestDesk } from './suggestDesk';

export type RunStatus = 'idle' | 'running' | 'stopped' | 'done';

/** Milliseconds between what is shown of a search that goes on: more often is more than can be read. */
const SHOWN_EVERY = 250;

/** One for each core, and one core left for the page. */
const workersFor = (cores: number): number => Math.max(1, cores - 1);

export class SuggestRun {
  readonly #start: () => Worker;
  readonly #cores: number;
  readonly #now: () => number;
  #workers: DeskClient<SuggestDesk>[] = [];
  #task: { readonly setup: Setup; readonly question: SuggestQuestion } | undefined;
  #left: CandidateRange[] = [];
  /** Pieces that a worker has and has not finished. */
  #doing: CandidateRange[] = [];
  /** Milliseconds that were worked before this turn, and when it began. */
  #worked = 0;
  #began = 0;
  #turn = 0;
  /** All that was found so far, of which the page may show a part yet. */
  #joined: Suggestions | undefined;
  #shown = -Infinity;

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
    this.#workers = Array.from({ length: many }, () => new DeskClient<SuggestDesk>(this.#start));
    for (const worker of this.#workers) void this.#work(worker, turn);
  }

  /** Takes piece after piece until none is left, or the turn is over. */
  async #work(worker: DeskClient<SuggestDesk>, turn: number): Promise<void> {
    const task = this.#task;
    if (task === undefined) return;
    let prepared = false;
    for (;;) {
      if (turn !== this.#turn) return;
      const piece = this.#left.shift();
      if (piece === undefined) return;
      this.#doing.push(piece);
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
      this.#doing = this.#doing.filter((each) => each !== piece);
      this.#take(part.value);
    }
  }

  #take(part: Suggestions): void {
    this.#joined = this.#joined === undefined ? part : joinSuggestions([this.#joined, part]);
    const now = this.#now();
    if (this.#joined.done === this.candidates) {
      this.#end();
      this.status = 'done';
    } else if (now - this.#shown < SHOWN_EVERY) return;
    this.#show(now);
  }

  #show(now: number): void {
    if (this.#joined === undefined) return;
    this.#shown = now;
    this.found = this.#joined;
    const { done } = this.found;
    const worked = this.#worked + now - this.#began;
    this.secondsLeft = ((worked / done) * (this.candidates - done)) / 1000;
  }

  stop(): void {
    if (this.status !== 'running') return;
    this.#left = [...this.#doing, ...this.#left];
    const now = this.#now();
    this.#show(now);
    this.#worked += now - this.#began;
    this.#end();
    this.status = 'stopped';
  }

  #end(): void {
    this.#turn++;
    this.#doing = [];
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
    this.found = this.#joined = undefined;
    this.#shown = -Infinity;
    this.failure = undefined;
    this.secondsLeft = undefined;
    this.status = 'idle';
  }
}
