/** A search spread over a queue: what one machine finds, found by workers that come, fail and are killed. */
import { Queue } from 'bullmq';
import { Redis } from 'ioredis';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { battery } from '../../battery';
import { LONG } from '../../seed';
import { call, callProcess, json } from './calling';
import { troubleText } from '../../../src/cli/queue/server';
import { RedisServer, WorkerProcess, hasOpenssl, hasRedis } from './redisServer';

interface Result {
  done: number;
  candidates: number;
  units: number;
  skipped: Record<string, number>;
  weighed: number;
  ranges: [number, number][];
  best: unknown[];
  frontier: unknown[];
}

/** All but how many were skipped, which depends on who had found what at the time. */
const answerOf = ({ best, frontier, done, candidates, ranges }: Result) => ({
  ...{ best, frontier, done, candidates, ranges },
});

const SMALL = ['suggest', '--setup', 'c6', '--stations', 'RKV,P4', '--strings-up-to', '1'];
const LARGE = ['suggest', '--stations', 'LKV,RKV', '--strings-up-to', '2', '--limit', '5'];

describe('the queue', () => {
  it('is named by the URL of a server that answers', async () => {
    expect(await call([...SMALL, '--queue', 'HOST'])).toMatchObject({ code: 2 });
    const { code, err } = await call([...SMALL, '--queue', 'redis://:secret@127.0.0.1:1']);
    expect({ code, err }).toEqual({
      code: 1,
      err: 'redis://:…@127.0.0.1:1: nothing answers there.\n',
    });
    expect(await call(['worker'])).toMatchObject({ code: 2, err: 'worker: --queue is missing.\n' });
  });
});

// replies as Redis words them
it.each([
  ['MISCONF Redis is configured to save RDB snapshots', 'its disk is full or cannot be written'],
  ["OOM command not allowed when used memory > 'maxmemory'.", 'its memory is full'],
  ['NOAUTH Authentication required.', 'the password is missing or wrong'],
])('says %s in words', (said, words) => {
  expect(troubleText(new Error(said))).toBe(words);
});

describe.skipIf(!hasRedis || !hasOpenssl)('a secured server (needs redis-server, openssl)', () => {
  let server: RedisServer;
  beforeAll(async () => {
    server = await RedisServer.secured('secret');
  });
  afterAll(() => server.end());
  const url = (scheme: string, password: string): string =>
    `${scheme}://:${password}@127.0.0.1:${server.port}`;

  it('is not spoken to where its certificate is not trusted, or without a secure connection', async () => {
    const refused = async (of: string) => (await call(['searches', '--queue', of])).err;
    const shown = `127.0.0.1:${server.port}`;
    expect(await refused(url('rediss', 'secret'))).toBe(
      `rediss://:…@${shown}: the secure connection fails (self-signed certificate); NODE_EXTRA_CA_CERTS=FILE names a certificate of your own.\n`,
    );
    expect(await refused(url('redis', 'secret'))).toContain(
      'where it wants a secure one the URL begins with rediss://',
    );
  });

  it.runIf(LONG)(
    'is searched on with its certificate and its password, and not with another',
    async () => {
      const { NODE_EXTRA_CA_CERTS: before } = process.env;
      process.env.NODE_EXTRA_CA_CERTS = server.certificate;
      try {
        const wrong = await callProcess(['searches', '--queue', url('rediss', 'wrong')]);
        expect(wrong.code).toBe(1);
        expect(wrong.err).toContain('the password is missing or wrong');
        const worker = await WorkerProcess.started(url('rediss', 'secret'));
        expect(worker.said).not.toContain('secret');
        const found = await json<Result>(
          [...SMALL, '--queue', url('rediss', 'secret')],
          undefined,
          callProcess,
        );
        await worker.end('SIGINT');
        expect(answerOf(found)).toEqual(answerOf(await json<Result>(SMALL)));
      } finally {
        if (before === undefined) delete process.env.NODE_EXTRA_CA_CERTS;
        else process.env.NODE_EXTRA_CA_CERTS = before;
      }
    },
    120_000,
  );
});

describe.skipIf(!hasRedis)('a server whose memory is full (needs redis-server)', () => {
  it.runIf(LONG)(
    'is told in words by who asks and by who works, and nothing is lost when there is room again',
    async () => {
      const server = await RedisServer.started('--maxmemory', '900kb');
      const redis = new Redis(server.url);
      try {
        const full = await call([...SMALL, '--queue', server.url]);
        expect(full).toMatchObject({ code: 1, err: `${server.url}: its memory is full.\n` });
        const worker = await WorkerProcess.started(server.url);
        expect(worker.said).toContain('its memory is full; it is tried again.');
        await redis.config('SET', 'maxmemory', '0');
        const found = await json<Result>([...SMALL, '--queue', server.url], undefined, callProcess);
        await worker.end('SIGINT');
        expect(answerOf(found)).toEqual(answerOf(await json<Result>(SMALL)));
      } finally {
        await redis.quit();
        await server.end();
      }
    },
    120_000,
  );
});

describe.skipIf(!hasRedis)('a search on a queue (needs redis-server)', () => {
  let server: RedisServer;
  beforeAll(async () => {
    server = await RedisServer.started();
  });
  afterAll(() => server.end());

  it('finds what one machine finds, leaves nothing behind, and refuses what it cannot do', async () => {
    const redis = new Redis(server.url);
    const listed = (version: string) =>
      redis.hset('gripwright:searches', 'other', JSON.stringify({ version, stations: [] }));
    await listed('0123');
    const worker = await WorkerProcess.started(server.url);
    const version = /Version (\w+) works/.exec(worker.said)?.[1] ?? '';
    // a search of another version is told, and not touched
    expect(worker.said).toContain(
      `A search of version 0123 is on the queue; this worker is version ${version} and takes nothing of it.`,
    );
    await redis.hdel('gripwright:searches', 'other');
    const found = await json<Result>([...SMALL, '--queue', server.url], undefined, callProcess);
    expect(answerOf(found)).toEqual(answerOf(await json<Result>(SMALL)));
    // what is no range fails for good with a reason, and the worker goes on
    const queue = new Queue(`ranges-${version}`, {
      connection: { port: server.port },
      prefix: 'gripwright',
    });
    const poisoned = await queue.add('range', { version, question: 'x', range: [5, 'all'] });
    while (!worker.said.includes('A range failed'))
      await new Promise((done) => setTimeout(done, 50));
    expect(worker.said).toContain('it is no range of a search');
    await poisoned.remove();
    const left = (await redis.keys('gripwright:*')).filter((key) => !/:ranges-/.test(key));
    expect(left).toEqual(['gripwright:workers']);
    expect(Object.values(await queue.getJobCounts()).every((each) => each === 0)).toBe(true);
    await worker.end('SIGINT');
    expect(worker.said).toContain('3,720 choices worked through.');
    await queue.close();
    await redis.quit();
  });

  // minutes of two cores
  if (LONG)
    battery(
      'comes to the same end when workers are killed and the server is started anew',
      { slice: 1, whole: 6 },
      async ({ count, random }) => {
        const alone = await json<Result>(LARGE, undefined, callProcess);
        const workers = [
          await WorkerProcess.started(server.url),
          await WorkerProcess.started(server.url),
        ];
        let isDone = false;
        const began = performance.now();
        const asked = json<Result>(
          [...LARGE, '--queue', server.url],
          undefined,
          async (args, cwd) => {
            const { code, out } = await callProcess(args, cwd);
            isDone = true;
            return { code, out, err: '' };
          },
        );
        let [killed, restarted] = [0, 0];
        while (killed < count && !isDone) {
          await new Promise((done) => setTimeout(done, 2000 + 3000 * random()));
          const at = killed % 2;
          await workers[at]?.end('SIGKILL');
          killed++;
          workers[at] = await WorkerProcess.started(server.url);
          if (killed % 3 === 2) {
            await server.kill();
            await server.start();
            restarted++;
          }
        }
        const found = await asked;
        await Promise.all(workers.map((worker) => worker.end('SIGINT')));
        expect(answerOf(found)).toEqual(answerOf(alone));
        const many = found.ranges.reduce((sum, [from, to]) => sum + to - from + 1, 0);
        const counted = Object.values(found.skipped).reduce(
          (sum, each) => sum + each,
          found.weighed,
        );
        console.log(
          `${killed} workers killed, server restarted ${restarted} times, ranges lost: ${found.units - many} units, counted twice: ${counted - found.candidates}, ${((performance.now() - began) / 1000).toFixed(0)} s`,
        );
        expect(counted).toBe(found.candidates);
        expect(killed).toBeGreaterThan(0);
      },
    );

  it.runIf(LONG)(
    'is stopped from any terminal, and gives the best so far',
    async () => {
      const worker = await WorkerProcess.started(server.url);
      const asked = callProcess([...LARGE, '--queue', server.url, '--json']);
      let searches: { search: string; done: number }[] = [];
      while ((searches[0]?.done ?? 0) < 3) {
        await new Promise((done) => setTimeout(done, 200));
        ({ searches } = await json<{ searches: typeof searches }>([
          'searches',
          ...['--queue', server.url],
        ]));
      }
      const { search = '' } = searches[0] ?? {};
      expect((await call(['searches', '--queue', server.url, '--stop', search])).code).toBe(0);
      const { code, out, err } = await asked;
      expect(code).toBe(0);
      expect(err).toContain('stopped from another terminal');
      const { done, candidates, best } = JSON.parse(out) as Result;
      expect(done).toBeLessThan(candidates);
      expect(best.length).toBeGreaterThan(0);
      await worker.end('SIGINT');
    },
    300_000,
  );
});
