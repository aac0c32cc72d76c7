/** The page's workers: who is asked, who waits, who is given up. */
import { expect, it, vi } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { noWishes } from '$lib/arrange/wishes';
import { SUPERSEDED, WorkerPool } from '$lib/ui/worker/workerPool';
import { askedOf } from './answering';
import { messageWorker } from './messageWorker';

interface Asked {
  readonly job: string;
  readonly given: readonly unknown[];
  readonly tell: (answer: unknown) => void;
}

/** A pool whose workers answer when the test lets them. */
function slowPool(size: number): { pool: WorkerPool; asked: Asked[]; ended: () => number } {
  const asked: Asked[] = [];
  let ended = 0;
  const pool = new WorkerPool(() => {
    const worker = messageWorker({
      ask: (job: string, given: unknown[]) =>
        new Promise((tell) => asked.push({ job, given, tell })),
    });
    const end = worker.terminate.bind(worker);
    return Object.assign(worker, {
      terminate: () => {
        ended++;
        end();
      },
    });
  }, size);
  return { pool, asked, ended: () => ended };
}

const e9 = builtIn('e9');
const reached = (asked: readonly Asked[], count: number): Promise<void> =>
  vi.waitFor(() => expect(asked).toHaveLength(count));
const chordsAsked = (asked: readonly Asked[]): unknown[] =>
  asked.map(({ given }) => (given[1] as { texts: { chord: string } }).texts.chord);

it('of questions that wait only the newest of a kind is put, and a running one is stopped', async () => {
  const { pool, asked, ended } = slowPool(1);
  // as fast as somebody types
  const answers = ['C', 'Cm', 'Cm7', 'Cm7b5'].map((chord) =>
    pool.ask('find', e9, askedOf(e9, { chord }), 5),
  );
  await reached(asked, 1);
  for (const answer of answers.slice(0, 3)) {
    const told = await answer;
    expect(told.ok ? '' : told.error).toBe(SUPERSEDED);
  }
  // the one that is being answered does not end by itself: its worker is ended, and another begun
  await reached(asked, 2);
  expect(ended()).toBe(1);
  expect(chordsAsked(asked)).toEqual(['C', 'Cm7b5']);
  asked[1]?.tell('the answer');
  expect(await answers[3]).toEqual({ ok: true, value: 'the answer' });
  pool.dispose();
});

it('a running one that ends in time costs its worker nothing', async () => {
  const { pool, asked, ended } = slowPool(1);
  void pool.ask('find', e9, askedOf(e9, { chord: 'C' }), 5);
  await reached(asked, 1);
  const newer = pool.ask('find', e9, askedOf(e9, { chord: 'F' }), 5);
  asked[0]?.tell('too late');
  await reached(asked, 2);
  asked[1]?.tell('F');
  expect(await newer).toEqual({ ok: true, value: 'F' });
  // longer than a worker is given to come to an end
  await new Promise((then) => setTimeout(then, 300));
  expect(ended()).toBe(0);
  pool.dispose();
});

it('questions of other kinds and pieces of a search stand side by side, as many as there are workers', async () => {
  const { pool, asked } = slowPool(2);
  const wishes = noWishes(false);
  const all = [
    pool.ask('onePull', e9, wishes, { chord: 'no chord' } as never, 0),
    pool.ask('onePull', e9, wishes, { chord: 'no chord' } as never, 1),
    pool.ask('tally', e9),
  ];
  await reached(asked, 2);
  expect(asked.map(({ job }) => job)).toEqual(['onePull', 'onePull']);
  asked[1]?.tell('second');
  await reached(asked, 3);
  asked[0]?.tell('first');
  asked[2]?.tell('third');
  expect((await Promise.all(all)).map((told) => told.ok && told.value)).toEqual([
    'first',
    'second',
    'third',
  ]);
  pool.dispose();
});

it('a worker that fails is told in a sentence, and the next question starts another', async () => {
  let broken = true;
  const pool = new WorkerPool(
    () =>
      messageWorker({
        ask: () => {
          if (broken) throw new Error('out of memory');
          return 'well again';
        },
      }),
    1,
  );
  const failed = await pool.ask('tally', e9);
  expect(failed.ok ? '' : failed.error).toBe(
    'The search stopped: out of memory. It starts anew with the next question.',
  );
  broken = false;
  expect(await pool.ask('tally', e9)).toEqual({ ok: true, value: 'well again' });
  pool.dispose();
});

it('a browser that gives no worker is told of in a sentence, and the next question asks it again', async () => {
  let given = false;
  const pool = new WorkerPool(() => {
    if (!given) throw new Error('no workers here');
    return messageWorker({ ask: () => 'an answer' });
  }, 2);
  // ahead of the first question nobody waits for it
  pool.begin();
  const refused = await Promise.all([pool.ask('tally', e9), pool.ask('tally', e9)]);
  expect(refused.map((told) => (told.ok ? '' : told.error))).toEqual(
    Array(2).fill(
      'The search stopped: no workers here. It starts anew with the next question.',
    ) as string[],
  );
  given = true;
  expect(await pool.ask('tally', e9)).toEqual({ ok: true, value: 'an answer' });
  pool.dispose();
});

it('where the browser gives no worker more, a question waits for one that is there', async () => {
  const asked: ((answer: unknown) => void)[] = [];
  let workers = 0;
  const pool = new WorkerPool(() => {
    if (++workers > 1) throw new Error('no more');
    return messageWorker({ ask: () => new Promise((tell) => asked.push(tell)) });
  }, 3);
  const [first, second] = [pool.ask('tally', e9), pool.ask('tally', e9)];
  await vi.waitFor(() => expect(asked).toHaveLength(1));
  asked[0]?.('first');
  await vi.waitFor(() => expect(asked).toHaveLength(2));
  asked[1]?.('second');
  expect((await Promise.all([first, second])).map((told) => told.ok && told.value)).toEqual([
    'first',
    'second',
  ]);
  pool.dispose();
});

it('what cannot be sent to a worker is refused with a sentence', async () => {
  const pool = new WorkerPool(() => messageWorker({ ask: () => 'an answer' }), 1);
  // a function cannot be copied to another thread
  const refused = await pool.ask('tally', { ...e9, name: (() => '') as never });
  expect(refused.ok ? '' : refused.error).toMatch(
    /^The search stopped: .+ with the next question\.$/u,
  );
  expect(await pool.ask('tally', e9)).toEqual({ ok: true, value: 'an answer' });
  pool.dispose();
});
