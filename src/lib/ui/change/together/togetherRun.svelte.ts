/**
 * A search over several stations on the page: the engine's workers take pieces of it one after another, and the best
 * so far is shown as it comes in, with the bound on what is left. It can be stopped, and goes on where it was
 * when the page is opened again: what was found is kept on the device.
 */
import type { Result } from '$lib/result';
import type { TogetherPlan } from '$lib/answers/together';
import type { Setup } from '$lib/setup/setup';
import {
  unitsDone,
  unitsThatCount,
  withBound,
  type Asked,
  type FoundTogether,
  type Picks,
  type ToldTogether,
} from '$lib/coverage/foundTogether';
import type { CandidateRange } from '$lib/coverage/ranges';
import { TogetherWork } from '$lib/coverage/togetherWork';
import type { TogetherQuestion } from '$lib/coverage/together';
import type { RunStatus } from '../suggestRun.svelte';

/** Milliseconds between what is shown and kept of a search that goes on. */
const SHOWN_EVERY = 500;
/** What is shown of a list that changes while it is read. */
export const FIRST = 5;
/** Before so many units are done, what one of them takes is not known. */
const TELLING = 4;

type Told<T> = Promise<Result<T, string>>;

/** Those who try choices. */
export interface TryingTogether {
  /** How many pieces they take at once. */
  readonly hands: number;
  plan(
    setup: Setup,
    question: TogetherQuestion,
    done?: Pick<FoundTogether, 'question' | 'ranges'>,
  ): Told<TogetherPlan>;
  within(
    setup: Setup,
    question: TogetherQuestion,
    range: CandidateRange,
    known: Asked,
  ): Told<FoundTogether>;
  bounds(setup: Setup, question: TogetherQuestion): Told<Float64Array>;
  told(setup: Setup, question: TogetherQuestion, all: readonly Picks[]): Told<ToldTogether[]>;
  /** What they are at is wanted no more. */
  stop(): void;
}

/** Where what was found is kept, as one text; empty where nothing is. */
export interface Keeping {
  read(): string;
  write(text: string): void;
}

/** What is asked. */
interface Task {
  readonly setup: Setup;
  readonly question: TogetherQuestion;
  readonly bySongs: boolean;
}

/** What is kept on the device. */
interface Kept {
  readonly version: string;
  /** Not there where an earlier visit kept it without. */
  readonly question?: TogetherQuestion;
  /** Its chords are those of the player's songs. */
  readonly bySongs?: boolean;
  readonly found: FoundTogether;
}

/** A question that was begun before. */
export interface Begun {
  readonly question: TogetherQuestion;
  /** Its chords are those of the player's songs. */
  readonly bySongs: boolean;
}

const nameOf = ({ picks }: { readonly picks: Picks }): string => picks.join();

export class TogetherRun {
  readonly #trying: TryingTogether;
  readonly #keeping: Keeping;
  readonly #version: string;
  readonly #now: () => number;
  #task: Task | undefined;
  #work: TogetherWork | undefined;
  #bounds: Float64Array | undefined;
  #shown = -Infinity;
  /** When the first part came in, and the units that were done then: making ready is no unit's time. */
  #first: { readonly at: number; readonly units: number } | undefined;

  status = $state<RunStatus>('idle');
  found = $state.raw<FoundTogether | undefined>();
  failure = $state<string | undefined>();
  candidates = $state(0);
  secondsLeft = $state<number | undefined>();
  /** What is told of choices, by their picks. */
  told = $state.raw<Readonly<Record<string, ToldTogether>>>({});
  readonly best = $derived(
    (this.found?.best ?? [])
      .slice(0, this.status === 'running' ? FIRST : undefined)
      .flatMap((each) => this.told[nameOf(each)] ?? []),
  );
  /** All of the best are told: what is worked out of them is of them all. */
  readonly isTold = $derived(
    (this.found?.best ?? []).every((each) => this.told[nameOf(each)] !== undefined),
  );
  readonly frontier = $derived(
    (this.found?.frontier ?? []).flatMap((each) => this.told[nameOf(each)] ?? []),
  );

  constructor(trying: TryingTogether, keeping: Keeping, version: string, now: () => number) {
    this.#trying = trying;
    this.#keeping = keeping;
    this.#version = version;
    this.#now = now;
  }

  /** What was kept by this version, of whatever question. */
  #kept(): Kept | undefined {
    try {
      const kept = JSON.parse(this.#keeping.read()) as Kept;
      return kept.version === this.#version && Array.isArray(kept.found.ranges) ? kept : undefined;
    } catch {
      return undefined;
    }
  }

  /** What was begun before about this setup; nothing where it was about another. */
  async begun(setup: Setup): Promise<Begun | undefined> {
    const kept = this.#kept();
    if (kept?.question === undefined) return undefined;
    const plan = await this.#trying.plan(setup, kept.question);
    if (!plan.ok || plan.value.question !== kept.found.question) return undefined;
    return { question: kept.question, bySongs: kept.bySongs === true };
  }

  /** Looks at a question; where it was begun before, it stands stopped where it was. */
  async open(setup: Setup, question: TogetherQuestion, bySongs = false): Promise<void> {
    this.forget();
    const task = { setup, question, bySongs };
    this.#task = task;
    const kept = this.#kept()?.found;
    const plan = await this.#trying.plan(setup, question, kept);
    if (this.#task !== task) return;
    if (!plan.ok) {
      this.failure = plan.error;
      return;
    }
    this.candidates = plan.value.candidates;
    const before = kept?.question === plan.value.question ? kept : undefined;
    this.#work = new TogetherWork(plan.value.pieces, (soFar) => this.#take(soFar), before);
    if (before === undefined) return;
    this.status = plan.value.pieces.length === 0 ? 'done' : 'stopped';
    this.#show(this.#now());
    if (this.status === 'done') return;
    await this.#bound(task);
    if (this.#task === task && this.found) this.found = withBound(this.found, this.#bounds);
  }

  /** Asks once what no choice of a unit scores above. */
  async #bound(task: Task): Promise<void> {
    if (this.#bounds !== undefined || this.#task !== task) return;
    const bounds = await this.#trying.bounds(task.setup, task.question);
    if (bounds.ok && this.#task === task) this.#bounds = bounds.value;
  }

  /** Goes on, or begins. */
  resume(): void {
    const [task, work] = [this.#task, this.#work];
    if (task === undefined || work === undefined || work.left === 0) return;
    const { setup, question } = task;
    this.failure = undefined;
    this.status = 'running';
    this.#first = undefined;
    const run = work.run(this.#trying.hands, async (piece, known, hand) => {
      const part = await this.#trying.within(setup, question, piece, known);
      if (!part.ok) throw new Error(part.error);
      if (hand === 0) await this.#bound(task);
      return part.value;
    });
    run.catch((error: unknown) => {
      if (work !== this.#work) return;
      this.stop();
      this.failure = error instanceof Error ? error.message : String(error);
    });
  }

  /** From the beginning, whatever was found before. */
  async startOver(): Promise<void> {
    const task = this.#task;
    if (task === undefined) return;
    this.#keeping.write('');
    await this.open(task.setup, task.question, task.bySongs);
    this.resume();
  }

  #take(soFar: FoundTogether): void {
    const now = this.#now();
    this.#first ??= { at: now, units: unitsDone(soFar) };
    if (soFar.done === this.candidates) this.status = 'done';
    else if (now - this.#shown < SHOWN_EVERY) return;
    this.#show(now);
  }

  #show(now: number): void {
    const soFar = this.#work?.soFar;
    if (soFar === undefined) return;
    this.#shown = now;
    this.found = withBound(soFar, this.#bounds);
    this.secondsLeft = this.#secondsLeft(soFar, now);
    const { question, bySongs } = this.#task ?? {};
    this.#keeping.write(
      JSON.stringify({ version: this.#version, question, bySongs, found: soFar }),
    );
    void this.#tell();
  }

  /** What is left takes as long as what was done; units that are skipped by their bound take no time. */
  #secondsLeft(soFar: FoundTogether, now: number): number | undefined {
    if (this.#first === undefined || this.#bounds === undefined) return undefined;
    const done = unitsDone(soFar) - this.#first.units;
    if (done < TELLING) return undefined;
    return ((now - this.#first.at) / done / 1000) * unitsThatCount(soFar, this.#bounds);
  }

  /** Asks what is to be told of choices that are shown and new. */
  async #tell(): Promise<void> {
    const [task, found] = [this.#task, this.found];
    if (task === undefined || found === undefined) return;
    const best = this.status === 'running' ? found.best.slice(0, FIRST) : found.best;
    const fresh = [...best, ...found.frontier].filter(
      (each) => this.told[nameOf(each)] === undefined,
    );
    if (fresh.length === 0) return;
    const picks = fresh.map((each) => each.picks);
    const told = await this.#trying.told(task.setup, task.question, picks);
    if (!told.ok || this.#task !== task) return;
    const fresher = told.value.map((each, at) => [(picks[at] as Picks).join(), each] as const);
    this.told = { ...this.told, ...Object.fromEntries(fresher) };
  }

  stop(): void {
    if (this.status !== 'running') return;
    this.#work?.stop();
    this.#trying.stop();
    this.status = 'stopped';
    this.#show(this.#now());
  }

  /** Drops the question; what was found of it stays kept. */
  forget(): void {
    if (this.status === 'running') this.#trying.stop();
    this.#work?.stop();
    this.#work = undefined;
    this.#task = undefined;
    this.#bounds = undefined;
    this.candidates = 0;
    this.found = undefined;
    this.told = {};
    this.#shown = -Infinity;
    this.failure = undefined;
    this.secondsLeft = undefined;
    this.status = 'idle';
  }
}
