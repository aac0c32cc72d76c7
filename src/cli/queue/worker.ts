/** `gripwright worker`: works through the ranges of whatever searches are on a queue. */
import { randomUUID } from 'node:crypto';
import { availableParallelism } from 'node:os';
import type { Asked } from '$lib/coverage/foundTogether';
import { wholeNumber, type MakeJob } from '../job';
import { Refusal, numberText, print, say } from '../out';
import { threadOf, type Hand } from '../togetherPool';
import { VERSION } from '../version';
import {
  KEPT_SECONDS,
  SEARCHES,
  WORKERS,
  keysOf,
  rangeKey,
  type KeptTask,
  type ListedSearch,
  type RangeJob,
} from './kept';
import { connected, serverUrl, shownUrl, troubleText, type Server } from './server';

interface WorkerOptions {
  readonly queue?: string;
  readonly threads?: number;
  readonly lock: number;
}

/** Seconds between two signs of life. */
const SIGN_EVERY = 5;

/** The threads of one search, each asked one range at a time. */
class Hands {
  readonly #most: number;
  #question = '';
  #free: Hand[] = [];
  #all: Hand[] = [];

  constructor(most: number) {
    this.#most = most;
  }

  /** Lends a thread that has the search ready, or makes one. */
  async with<T>(question: string, task: KeptTask, act: (hand: Hand) => Promise<T>): Promise<T> {
    if (question !== this.#question) {
      // threads of another search end when they are given back
      const idle = this.#free;
      this.#free = [];
      this.#question = question;
      await Promise.all(idle.map((hand) => this.#end(hand)));
    }
    const hand = this.#free.pop() ?? threadOf(task);
    if (!this.#all.includes(hand)) this.#all.push(hand);
    try {
      const done = await act(hand);
      if (question === this.#question && this.#free.length < this.#most) this.#free.push(hand);
      else await this.#end(hand);
      return done;
    } catch (error) {
      await this.#end(hand);
      throw error;
    }
  }

  async #end(hand: Hand): Promise<void> {
    this.#all = this.#all.filter((each) => each !== hand);
    await hand.end();
  }

  async end(): Promise<void> {
    await Promise.all(this.#all.map((hand) => hand.end()));
  }
}

const isRange = (range: unknown): boolean =>
  Array.isArray(range) &&
  range.length === 2 &&
  range.every((each) => Number.isSafeInteger(each) && Number(each) >= 0) &&
  Number(range[0]) <= Number(range[1]);

/** Works through one range; what it gives is laid down once. */
async function workThrough(server: Server, hands: Hands, job: unknown): Promise<number> {
  const { redis, bullmq } = server;
  const { question, version, range } = (job ?? {}) as Partial<RangeJob>;
  const never = (why: string): Error => new bullmq.UnrecoverableError(why);
  if (version !== VERSION) throw never(`it is of version ${String(version)}, not ${VERSION}`);
  if (typeof question !== 'string' || range === undefined || !isRange(range))
    throw never('it is no range of a search');
  const keys = keysOf(question);
  const field = rangeKey(range);
  if ((await redis.exists(keys.stop)) > 0 || (await redis.hexists(keys.found, field)) > 0) return 0;
  const [kept, known] = await redis.mget(keys.task, keys.asked);
  if (typeof kept !== 'string') throw new Error('its setup and question are not on the server');
  const task = JSON.parse(kept) as KeptTask;
  const asked = (
    typeof known === 'string' ? JSON.parse(known) : { last: 0, byStrings: [] }
  ) as Asked;
  const found = await hands.with(question, task, (hand) => hand.within(range, asked));
  if (found.question !== question) throw never('it answers another question than it is named by');
  await redis.hsetnx(keys.found, field, JSON.stringify(found));
  await redis.expire(keys.found, KEPT_SECONDS);
  return found.done;
}

/** Searches of other versions, each told once. */
async function tellOthers(server: Server, told: Set<string>): Promise<void> {
  for (const text of Object.values(await server.redis.hgetall(SEARCHES))) {
    const { version } = JSON.parse(text) as ListedSearch;
    if (version === VERSION || told.has(version)) continue;
    told.add(version);
    say(
      `A search of version ${version} is on the queue; this worker is version ${VERSION} and takes nothing of it. Both need the same program.`,
    );
  }
}

async function worker(options: WorkerOptions): Promise<void> {
  if (options.queue === undefined) throw new Refusal('worker: --queue is missing.', 2);
  if (options.lock < 1) throw new Refusal('--lock: found 0; allowed is 1 second or more.', 2);
  const threads = Math.max(1, options.threads ?? availableParallelism());
  const url = serverUrl(options.queue);
  const server = await connected(url);
  const hands = new Hands(threads);
  const name = `${VERSION} ${randomUUID()}`;
  const told = new Set<string>();
  let trouble = '';
  const sign = async (): Promise<void> => {
    try {
      const [now] = await server.redis.time();
      await server.redis.zadd(WORKERS, Number(now), name);
      await tellOthers(server, told);
      trouble = '';
    } catch (error) {
      const text = troubleText(error);
      if (text !== trouble) say(`${shownUrl(url)}: ${text}; it is tried again.`);
      trouble = text;
    }
  };
  await sign();
  const signs = setInterval(() => void sign(), SIGN_EVERY * 1000);
  let [ranges, choices] = [0, 0];
  // bound to this job's promise, which the queue waits for: locks are renewed meanwhile, for threads compute
  const working = server.worker(VERSION, async ({ data }) => workThrough(server, hands, data), {
    concurrency: threads,
    lockMs: options.lock * 1000,
  });
  working.on('completed', (_, done: number) => {
    if (done === 0) return;
    ranges++;
    choices += done;
  });
  working.on('failed', (job, error) => {
    say(`A range failed (${job?.id ?? 'without a name'}): ${troubleText(error)}.`);
  });
  working.on('error', () => undefined);
  print(
    `Version ${VERSION} works for ${shownUrl(url)} with ${numberText(threads)} ${threads === 1 ? 'thread' : 'threads'}; Ctrl-C ends it after the ranges that it is at.`,
  );
  await new Promise<void>((done) => {
    process.once('SIGINT', done);
    process.once('SIGTERM', done);
  });
  clearInterval(signs);
  await working.close();
  await server.redis.zrem(WORKERS, name).catch(() => undefined);
  await hands.end();
  await server.close();
  print(`${numberText(ranges)} ranges with ${numberText(choices)} choices worked through.`);
}

/** Adds the job `worker`. */
export function addWorker(job: MakeJob): void {
  job('worker', 'work on the searches that are spread over a queue', false)
    .option('--queue <url>', 'the Redis server: redis://HOST, or rediss://:PASSWORD@HOST:PORT')
    .option(
      '--threads <number>',
      'how many ranges at once; as many as cores where left out',
      wholeNumber,
    )
    .option(
      '--lock <seconds>',
      'after so long a range of a worker that is gone goes to another',
      wholeNumber,
      15,
    )
    .action((options: WorkerOptions) => worker(options));
}
