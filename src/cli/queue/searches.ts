/** `gripwright searches`: what is on a queue, from any terminal; and a stop. */
import type { MakeJob } from '../job';
import { Refusal, numberText, print, printJson, table } from '../out';
import { GONE_SECONDS, KEPT_SECONDS, SEARCHES, WORKERS, keysOf, type ListedSearch } from './kept';
import { connected, inWords, serverUrl } from './server';

interface SearchesOptions {
  readonly queue?: string;
  readonly stop?: string;
  readonly json?: boolean;
}

async function searches(options: SearchesOptions): Promise<void> {
  if (options.queue === undefined) throw new Refusal('searches: --queue is missing.', 2);
  const server = await connected(serverUrl(options.queue));
  const { redis } = server;
  try {
    const [now] = await redis.time();
    const workers = await redis.zcount(WORKERS, Number(now) - GONE_SECONDS, '+inf');
    const all = Object.entries(await redis.hgetall(SEARCHES)).map(([search, text]) => ({
      search,
      ...(JSON.parse(text) as ListedSearch),
    }));
    if (options.stop !== undefined) {
      const wanted = all.find(({ search }) => search === options.stop);
      if (wanted === undefined)
        throw new Refusal(`--stop: found “${options.stop}”; no such search is on the queue.`, 1);
      await inWords(options.queue, () =>
        redis.set(keysOf(wanted.search).stop, '1', 'EX', KEPT_SECONDS),
      );
      // who asked may be gone: then nobody else takes it off
      await redis.hdel(SEARCHES, wanted.search);
      if (options.json === true) printJson({ stopped: wanted.search });
      else print(`${wanted.search} is stopped; who asked has the best so far.`);
      return;
    }
    if (options.json === true) {
      printJson({ workers, searches: all });
      return;
    }
    print(
      `${numberText(workers)} ${workers === 1 ? 'worker' : 'workers'}, ${numberText(all.length)} ${all.length === 1 ? 'search' : 'searches'}.`,
    );
    if (all.length === 0) return;
    print(
      table(
        ['search', 'setup', 'stations', 'ranges', 'of', 'best', 'nothing left above', 'version'],
        all.map((each) => [
          each.search,
          each.setup,
          each.stations.join(', '),
          numberText(each.done),
          numberText(each.ranges),
          each.best?.toFixed(2) ?? '',
          each.left?.toFixed(0) ?? '',
          each.version,
        ]),
        [3, 4, 5, 6],
      ),
    );
  } finally {
    await server.close();
  }
}

/** Adds the job `searches`. */
export function addSearches(job: MakeJob): void {
  job('searches', 'what is searched for on a queue, and how far it is', false)
    .option('--queue <url>', 'the Redis server')
    .option('--stop <search>', 'stop this one; who asked for it has the best so far')
    .action((options: SearchesOptions) => searches(options));
}
