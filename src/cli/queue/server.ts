/**
 * The Redis server over which a search is spread. What speaks to it is an optional part of the installation,
 * looked for when a queue is named and never before.
 */
import type { Queue, Worker } from 'bullmq';
import type { Redis } from 'ioredis';
import { Refusal, say } from '../out';

/** All that the program keeps on the server begins with this. */
export const PREFIX = 'gripwright';

/** A URL as it may be shown: without its password. */
export function shownUrl(url: string): string {
  const shown = new URL(url);
  if (shown.password !== '') shown.password = '…';
  return decodeURIComponent(shown.href);
}

/** The URL of a server; anything else is refused. */
export function serverUrl(text: string): string {
  const url = URL.canParse(text) ? new URL(text) : undefined;
  if (url === undefined || !/^rediss?:$/.test(url.protocol) || url.hostname === '')
    throw new Refusal(
      '--queue: allowed is the URL of a Redis server, such as redis://HOST or rediss://:PASSWORD@HOST:6380.',
      2,
    );
  return text;
}

interface Parts {
  readonly bullmq: typeof import('bullmq');
  readonly ioredis: typeof import('ioredis');
}

async function parts(): Promise<Parts> {
  try {
    const [bullmq, ioredis] = await Promise.all([import('bullmq'), import('ioredis')]);
    return { bullmq, ioredis };
  } catch {
    throw new Refusal(
      '--queue: this needs bullmq and ioredis, which are optional; npm install bullmq ioredis beside the program brings them.',
      1,
    );
  }
}

/** A connected server. */
export interface Server {
  readonly bullmq: Parts['bullmq'];
  readonly redis: Redis;
  /** The queue of the ranges of one version: no other version ever sees them. */
  queue(version: string): Queue;
  worker(
    version: string,
    does: ConstructorParameters<typeof Worker>[1],
    how: { readonly concurrency: number; readonly lockMs: number },
  ): Worker;
  close(): Promise<void>;
}

/** What a server says that takes nothing, in words. */
export function troubleText(error: unknown): string {
  const said = error instanceof Error ? error.message : String(error);
  if (/MISCONF/.test(said)) return 'its disk is full or cannot be written';
  if (/OOM command/.test(said)) return 'its memory is full';
  if (/NOAUTH|WRONGPASS/.test(said)) return 'the password is missing or wrong';
  if (/ECONNREFUSED/.test(said)) return 'nothing answers there';
  if (/ENOTFOUND|EAI_AGAIN/.test(said)) return 'there is no such host';
  if (/self.signed|unable to (get|verify)/i.test(said))
    return `the secure connection fails (${said}); NODE_EXTRA_CA_CERTS=FILE names a certificate of your own`;
  if (/certificate|SSL|TLS|altname/i.test(said)) return `the secure connection fails (${said})`;
  if (/ECONNRESET|EPIPE/.test(said))
    return 'it ends the connection; where it wants a secure one the URL begins with rediss://';
  return said === '' ? 'it does not answer' : said;
}

/** What a server refuses while it is asked, in words. */
export async function inWords<T>(url: string, act: () => Promise<T>): Promise<T> {
  try {
    return await act();
  } catch (error) {
    if (!(error instanceof Error) || error.name !== 'ReplyError') throw error;
    throw new Refusal(`${shownUrl(url)}: ${troubleText(error)}.`, 1);
  }
}

const FIRST_ANSWER_MS = 5000;

/** Connects, and says in words what is against it; once connected a lost server is waited for. */
export async function connected(url: string): Promise<Server> {
  const { bullmq, ioredis } = await parts();
  const made = (): Redis =>
    new ioredis.Redis(url, {
      maxRetriesPerRequest: null,
      lazyConnect: true,
      connectTimeout: FIRST_ANSWER_MS,
      retryStrategy: (times) => Math.min(250 * times, 2000),
    });
  const redis = made();
  let last: unknown;
  let isThere = false;
  let isLost = false;
  redis.on('error', (error: unknown) => {
    last = error;
    if (!isThere || isLost) return;
    isLost = true;
    say(`${shownUrl(url)}: the connection is lost; it is tried again.`);
  });
  redis.on('ready', () => {
    if (isLost) say(`${shownUrl(url)}: connected again.`);
    isLost = false;
  });
  try {
    await Promise.race([
      redis.connect().then(() => redis.ping()),
      new Promise((_, fail) => setTimeout(fail, FIRST_ANSWER_MS + 1000)),
    ]);
  } catch (error) {
    redis.disconnect();
    throw new Refusal(`${shownUrl(url)}: ${troubleText(last ?? error)}.`, 1);
  }
  isThere = true;
  const others: { close(): Promise<unknown> }[] = [];
  const connections: Redis[] = [];
  const own = (): Redis => {
    const connection = made();
    // told by the first connection
    connection.on('error', () => undefined);
    connections.push(connection);
    return connection;
  };
  return {
    bullmq,
    redis,
    queue(version) {
      const queue = new bullmq.Queue(`ranges-${version}`, { connection: own(), prefix: PREFIX });
      queue.on('error', () => undefined);
      others.push(queue);
      return queue;
    },
    worker(version, does, { concurrency, lockMs }) {
      const worker = new bullmq.Worker(`ranges-${version}`, does, {
        connection: own(),
        prefix: PREFIX,
        concurrency,
        lockDuration: lockMs,
        stalledInterval: lockMs,
        // a killed worker costs its range once more; a range that kills whoever takes it comes to an end
        maxStalledCount: 5,
      });
      others.push(worker);
      return worker;
    },
    async close() {
      await Promise.allSettled(others.map((each) => each.close()));
      for (const each of [...connections, redis]) each.disconnect();
    },
  };
}
