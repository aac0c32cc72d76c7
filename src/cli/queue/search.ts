/** A search over several stations spread over a queue: its ranges as jobs, what they give collected. */
import { askedBy, joinTogether, withBound, type FoundTogether } from '$lib/coverage/foundTogether';
import type { CandidateRange } from '$lib/coverage/ranges';
import { together, type Together } from '$lib/coverage/together';
import { Refusal, numberText, say } from '../out';
import {
  threadOf,
  unitsToDo,
  type TogetherTask,
  type Watching,
  type togetherWithThreads,
} from '../togetherPool';
import { VERSION } from '../version';
import {
  GONE_SECONDS,
  KEPT_SECONDS,
  SEARCHES,
  WORKERS,
  jobId,
  keysOf,
  rangeKey,
  type ListedSearch,
  type RangeJob,
} from './kept';
import { connected, inWords, shownUrl, troubleText, type Server } from './server';

const LOOKED_EVERY = 400;
/** Milliseconds after which it is told that nobody works, and that ranges are looked after. */
const LONELY = 4000;
/** A range is tried so often: what a worker cannot do another may. */
const ATTEMPTS = 3;

/** Jobs for some ranges; those that are there already stay as they are. */
const addRanges = async (
  queue: ReturnType<Server['queue']>,
  question: string,
  ranges: readonly CandidateRange[],
): Promise<void> => {
  await queue.addBulk(
    ranges.map((range) => ({
      name: 'range',
      data: { question, version: VERSION, range } satisfies RangeJob,
      opts: {
        jobId: jobId(question, range),
        attempts: ATTEMPTS,
        backoff: { type: 'fixed', delay: 1000 },
        removeOnComplete: true,
      },
    })),
  );
};

/** How many workers of this version and of others have shown themselves lately. */
async function workersOn({ redis }: Server): Promise<{ own: number; others: string[] }> {
  const [now] = await redis.time();
  const names = await redis.zrangebyscore(WORKERS, Number(now) - GONE_SECONDS, '+inf');
  const versions = names.map((name) => name.split(' ')[0] ?? '');
  return {
    own: versions.filter((version) => version === VERSION).length,
    others: [...new Set(versions.filter((version) => version !== VERSION))],
  };
}

/** The ranges of a search that failed for good, with the reason. */
async function failedRange(
  queue: ReturnType<Server['queue']>,
  question: string,
): Promise<string | undefined> {
  for (const job of await queue.getFailed(0, 100)) {
    if ((job.data as Partial<RangeJob> | undefined)?.question !== question) continue;
    return `range ${rangeKey((job.data as RangeJob).range)} failed ${job.attemptsMade < 2 ? 'for good' : `${job.attemptsMade} times`}: ${troubleText(new Error(job.failedReason))}`;
  }
  return undefined;
}

/** One search under way. */
class Spread {
  readonly #server: Server;
  readonly #queue: ReturnType<Server['queue']>;
  readonly #task: TogetherTask;
  readonly #question: string;
  readonly #pending: Map<string, CandidateRange>;
  readonly #ranges: number;
  readonly #choices: number;
  #run = '';
  soFar: FoundTogether | undefined;

  constructor(
    server: Server,
    task: TogetherTask,
    { question, candidates }: Pick<Together, 'question' | 'candidates'>,
    pieces: readonly CandidateRange[],
    before: FoundTogether | undefined,
  ) {
    this.#server = server;
    this.#queue = server.queue(VERSION);
    this.#task = task;
    this.#question = question;
    this.#pending = new Map(pieces.map((piece) => [rangeKey(piece), piece]));
    this.#ranges = pieces.length;
    this.#choices = candidates;
    this.soFar = before;
  }

  get left(): number {
    return this.#pending.size;
  }

  /** Lays everything down that is not there: at first, and when the server has lost it. */
  async layDown(): Promise<void> {
    const { redis } = this.#server;
    const keys = keysOf(this.#question);
    await redis.set(keys.task, JSON.stringify(this.#task), 'EX', KEPT_SECONDS);
    await this.list();
    this.#run = await this.#runOfServer();
    await this.collect();
    await addRanges(this.#queue, this.#question, [...this.#pending.values()]);
  }

  /** Tells a server from the one that it was before it was started again. */
  async #runOfServer(): Promise<string> {
    return /run_id:(\w+)/.exec(await this.#server.redis.info('server'))?.[1] ?? '';
  }

  /** Lays down again what a server that was started anew, or emptied, has lost. */
  async lookAfter(): Promise<void> {
    const isSame = this.#run === (await this.#runOfServer());
    const kept = await this.#server.redis.exists(keysOf(this.#question).task);
    const counts = await this.#queue.getJobCounts();
    const jobs = Object.values(counts).reduce((sum, each) => sum + each, 0);
    if (isSame && kept > 0 && jobs >= this.#pending.size) return;
    await this.layDown();
    if (!isSame)
      say(
        `The server was started again; what it had lost is on the queue again: ${numberText(this.left)} ranges.`,
      );
  }

  /** Takes in what has come; tells whether something has. Each range counts once. */
  async collect(): Promise<boolean> {
    const { redis } = this.#server;
    const keys = keysOf(this.#question);
    const there = (await redis.hkeys(keys.found)).filter((field) => this.#pending.has(field));
    if (there.length === 0) return false;
    const texts = await redis.hmget(keys.found, ...there);
    texts.forEach((text, at) => {
      const field = there[at] as string;
      if (text === null || !this.#pending.delete(field)) return;
      const part = JSON.parse(text) as FoundTogether;
      this.soFar = this.soFar === undefined ? part : joinTogether([this.soFar, part]);
    });
    if (this.soFar !== undefined)
      await redis.set(keys.asked, JSON.stringify(askedBy(this.soFar)), 'EX', KEPT_SECONDS);
    await this.list();
    return true;
  }

  /** Puts the search into the list that any terminal can read. */
  async list(left?: number): Promise<void> {
    await this.#server.redis.hset(
      SEARCHES,
      this.#question,
      JSON.stringify({
        version: VERSION,
        setup: this.#task.setup.name,
        stations: this.#task.question.places.map(({ station }) => station),
        ranges: this.#ranges,
        done: this.#ranges - this.left,
        choices: this.#choices,
        best: this.soFar?.best[0]?.score,
        left,
      } satisfies ListedSearch),
    );
  }

  failed(): Promise<string | undefined> {
    return failedRange(this.#queue, this.#question);
  }

  async isStopped(): Promise<boolean> {
    return (await this.#server.redis.exists(keysOf(this.#question).stop)) > 0;
  }

  workers(): ReturnType<typeof workersOn> {
    return workersOn(this.#server);
  }

  /** Takes the search off the server: what nobody has begun is begun by nobody. */
  async takeOff(): Promise<void> {
    const keys = keysOf(this.#question);
    await Promise.allSettled(
      [...this.#pending.values()].map((range) => this.#queue.remove(jobId(this.#question, range))),
    );
    await this.#server.redis.hdel(SEARCHES, this.#question);
    await this.#server.redis.del(keys.task, keys.asked, keys.found);
  }
}

/** Works through units by whoever works on the queue, as `togetherWithThreads` does with threads. */
export const withQueue =
  (url: string): typeof togetherWithThreads =>
  async (task, range, before, { onpart, stop }: Watching) => {
    const search = together(task.setup, task.question);
    const pieces = search.pieces(unitsToDo(search, range, before));
    if (pieces.length === 0) return before;
    const server = await connected(url);
    const spread = new Spread(server, task, search, pieces, before);
    let bounds: Float64Array | undefined;
    const bounding = search.candidates > 1e5 ? threadOf(task) : undefined;
    bounding?.bounds().then(
      (all) => (bounds = all),
      () => undefined,
    );
    let trouble = '';
    let isLonely = false;
    let looked = performance.now();
    try {
      await inWords(url, async () => {
        await server.redis.del(keysOf(search.question).stop);
        await spread.layDown();
      });
      if (spread.soFar !== undefined) onpart(withBound(spread.soFar, bounds));
      while (spread.left > 0 && !stop.aborted) {
        await new Promise((done) => setTimeout(done, LOOKED_EVERY));
        try {
          if (await spread.isStopped()) {
            say('The search was stopped from another terminal; this is the best so far.');
            break;
          }
          if (await spread.collect()) {
            looked = performance.now();
            if (spread.soFar !== undefined) {
              const soFar = withBound(spread.soFar, bounds);
              await spread.list(soFar.left);
              onpart(soFar);
            }
          } else if (performance.now() - looked > LONELY) {
            looked = performance.now();
            const failure = await spread.failed();
            if (failure !== undefined) throw new Refusal(`suggest: ${failure}.`, 1);
            await spread.lookAfter();
            const { own, others } = await spread.workers();
            if (own === 0 && !isLonely)
              say(
                others.length > 0
                  ? `No worker of this version (${VERSION}) is there, but of ${others.join(', ')}: all need the same program.`
                  : `No worker is there yet; start one with gripwright worker --queue ${shownUrl(url)}, on as many machines as you like.`,
              );
            isLonely = own === 0;
          }
          trouble = '';
        } catch (error) {
          if (error instanceof Refusal) throw error;
          const text = troubleText(error);
          if (text !== trouble) say(`${shownUrl(url)}: ${text}; it is tried again.`);
          trouble = text;
        }
      }
      await spread.takeOff();
    } finally {
      await bounding?.end();
      await server.close();
    }
    return spread.soFar === undefined ? undefined : withBound(spread.soFar, bounds);
  };
