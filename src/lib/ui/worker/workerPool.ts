/**
 * The page's side of the workers: one pool for all places. A question goes to a worker that is free,
 * best to the one that answered its like before, or waits. A newer question of its kind takes the place
 * of one that waits, and stops one that is being answered; a worker that fails (it could not be loaded,
 * it ran out of memory, it met a bug) is given up, what was asked of it is refused with a sentence, and
 * the next question starts another. So it is where the browser gives no worker at all.
 */
import { ok, refuse, type Result } from '$lib/result';
import type { Given, JobName, Told } from '$lib/answers/door';
import { reasonOf } from '$lib/ui/parts/reason';
import { askingAt, type Asking } from './messages';

/** Questions of which only the newest is wanted: it takes the place of those that were asked before. */
const NEWEST_ONLY: ReadonlySet<JobName> = new Set<JobName>([
  'find',
  'atlas',
  'book',
  'weigh',
  'picture',
  'rows',
  'weighPair',
  'arrange',
  'arrangeTune',
  'substitutions',
  'scales',
]);

interface Task {
  readonly job: JobName;
  readonly given: readonly unknown[];
  readonly tell: (answer: Result<unknown, string>) => void;
  /** Nobody waits for it any more. */
  dropped: boolean;
}

interface Slot {
  readonly worker: Worker;
  readonly ask: Asking;
  task: Task | undefined;
  /** What it answered last. */
  last: JobName | undefined;
}

/**
 * Milliseconds that a worker has to come to an end of what nobody wants any more. Then it is ended
 * itself, and all that it has worked out with it: so a stop is heard wherever the work stands.
 */
const GRACE_MS = 200;

/** What a question is told that a newer one has taken the place of. */
export const SUPERSEDED = 'A newer question was asked.';

/**
 * What is drawn from an answer is another task than reading the answer: together they keep a finger
 * waiting for too long on a slow device.
 */
const nextTask = (): Promise<void> => new Promise((done) => setTimeout(done, 0));

const stopped = (reason: string): string =>
  `The search stopped: ${reason}. It starts anew with the next question.`;

export class WorkerPool {
  readonly #start: () => Worker;
  readonly size: number;
  #slots: Slot[] = [];
  #waiting: Task[] = [];
  /** Why the browser gave no worker when one was wanted last. */
  #noWorker = '';

  /** @param size how many workers there are at most */
  constructor(start: () => Worker, size: number) {
    this.#start = start;
    this.size = size;
  }

  /** Starts a worker ahead of the first question, to load while the page does. */
  begin(): void {
    if (this.#slots.length === 0) this.#another();
  }

  /** Asks a question; an answer that nobody waits for any more is a refusal. */
  async ask<J extends JobName>(job: J, ...given: Given<J>): Promise<Result<Told<J>, string>> {
    if (NEWEST_ONLY.has(job)) this.stop(job);
    const answer = await new Promise<Result<unknown, string>>((tell) => {
      this.#waiting.push({ job, given, tell, dropped: false });
      this.#handOut();
    });
    await nextTask();
    return answer as Result<Told<J>, string>;
  }

  /** Gives up every question of a kind. */
  stop(job: JobName): void {
    for (const task of this.#waiting.filter((each) => each.job === job)) this.#drop(task);
    this.#waiting = this.#waiting.filter((each) => each.job !== job);
    for (const slot of this.#slots) {
      const { task } = slot;
      if (task === undefined || task.job !== job || task.dropped) continue;
      this.#drop(task);
      setTimeout(() => {
        if (slot.task === task) this.#end(slot);
      }, GRACE_MS);
    }
  }

  #drop(task: Task): void {
    task.dropped = true;
    task.tell(refuse(SUPERSEDED));
  }

  #handOut(): void {
    const [task] = this.#waiting;
    if (task === undefined) return;
    const free = this.#slots.filter((slot) => slot.task === undefined);
    const slot = free.find(({ last }) => last === task.job) ?? free[0] ?? this.#another();
    if (slot === undefined) {
      if (this.#slots.length === 0) this.#refuseAll();
      return;
    }
    this.#waiting.shift();
    void this.#work(slot, task);
    this.#handOut();
  }

  async #work(slot: Slot, task: Task): Promise<void> {
    slot.task = task;
    slot.last = task.job;
    let answer: Result<unknown, string>;
    try {
      answer = ok(await slot.ask(task.job, task.given));
    } catch (error) {
      answer = refuse(stopped(reasonOf(error)));
    }
    // ended meanwhile: whoever ended it has told so
    if (slot.task !== task) return;
    slot.task = undefined;
    if (!task.dropped) task.tell(answer);
    if (!answer.ok) this.#end(slot);
    else this.#handOut();
  }

  /** One worker more, where there is room for it and the browser gives it. */
  #another(): Slot | undefined {
    if (this.#slots.length >= this.size) return undefined;
    try {
      return this.#add();
    } catch (error) {
      this.#noWorker = reasonOf(error);
      return undefined;
    }
  }

  /** Nobody is there who could answer what waits. */
  #refuseAll(): void {
    const waiting = this.#waiting;
    this.#waiting = [];
    for (const { tell } of waiting) tell(refuse(stopped(this.#noWorker)));
  }

  #add(): Slot {
    const worker = this.#start();
    const slot: Slot = {
      worker,
      ask: askingAt(worker),
      task: undefined,
      last: undefined,
    };
    const fail = (reason: string): void => {
      const { task } = slot;
      slot.task = undefined;
      if (task !== undefined && !task.dropped) task.tell(refuse(stopped(reason)));
      this.#end(slot);
    };
    worker.addEventListener('error', (event) => {
      fail(event.message || 'its program could not be loaded');
    });
    worker.addEventListener('messageerror', () => fail('its answer could not be read'));
    this.#slots.push(slot);
    return slot;
  }

  #end(slot: Slot): void {
    slot.task = undefined;
    slot.worker.terminate();
    this.#slots = this.#slots.filter((each) => each !== slot);
    this.#handOut();
  }

  /** Ends all workers; nobody is told anything more. */
  dispose(): void {
    for (const task of this.#waiting) this.#drop(task);
    this.#waiting = [];
    for (const { task, worker } of this.#slots) {
      if (task !== undefined && !task.dropped) this.#drop(task);
      worker.terminate();
    }
    this.#slots = [];
  }
}
