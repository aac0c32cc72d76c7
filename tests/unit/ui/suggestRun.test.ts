/** A search for pulls on the page, with workers that find nothing but say what they have tried. */
import { describe, expect, it, vi } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { ok, refuse } from '$lib/result';
import type { SuggestQuestion, Suggestions } from '$lib/coverage/suggestion';
import { SuggestRun, type Trying } from '$lib/ui/change/suggestRun.svelte';
import { suggesting } from './answering';

/** Milliseconds that a piece takes by the clock that the run is given. */
const PIECE_MS = 40;

const QUESTION: SuggestQuestion = {
  stringsUpTo: 3,
  slants: false,
  sizes: [3, 4],
  wishes: [{ type: '', weight: 1 }],
  keep: [],
  must: [],
  never: [],
  control: { id: 'RKV', station: 'RKV' },
  limit: 24,
};

it('what is found so far is shown at once, then at most four times a second, and whole at the end', async () => {
  let clock = 0;
  let pieces = 0;
  const shown = new Map<Suggestions, number>();
  const note = (): void => {
    if (run.found !== undefined && !shown.has(run.found)) shown.set(run.found, clock);
  };
  const trying: Trying = {
    hands: 1,
    stop: () => undefined,
    within: async (_setup, _question, [first, last]) => {
      note();
      pieces += 1;
      clock += PIECE_MS;
      return Promise.resolve(
        ok({
          ...{ question: 'q', limit: 24, candidates: run.candidates, best: [] },
          ...{ ranges: [[first, last]], done: last - first + 1 },
        }),
      );
    },
  };
  const run: SuggestRun = new SuggestRun(trying, () => clock);
  run.begin(builtIn('e9'), QUESTION);
  await vi.waitFor(() => expect(run.status).toBe('done'), 20_000);
  note();

  // ten strings, up to three of them, each three semitones up or down: 60 + 45 · 36 + 120 · 216
  expect(run.candidates).toBe(27_600);
  expect([...shown.keys()].at(-1)?.done).toBe(27_600);
  const times = [...shown.values()];
  expect(times[0]).toBe(PIECE_MS);
  expect(pieces).toBeGreaterThan(20);
  // the last one is shown whenever it comes
  for (const [at, time] of times.slice(0, -1).entries())
    if (at > 0) expect(time - (times[at - 1] ?? 0)).toBeGreaterThanOrEqual(250);
  expect(times.length).toBeGreaterThan(3);
});

describe('a search of the worker itself', () => {
  // up to two of ten strings: 60 + 45 · 36 pull sets
  const ALL = 1680;
  const question: SuggestQuestion = { ...QUESTION, stringsUpTo: 2 };
  const running = (): SuggestRun => new SuggestRun(suggesting(), () => performance.now());
  const ended = (run: SuggestRun): Promise<void> =>
    vi.waitFor(() => expect(run.status).toBe('done'), 20_000);

  it('stops when it is told to, goes on, and comes to the same end', async () => {
    const run = running();
    run.begin(builtIn('e9'), question);
    expect(run.status).toBe('running');
    expect(run.candidates).toBe(ALL);
    await vi.waitFor(() => expect(run.found?.best.length).toBeGreaterThan(2), {
      timeout: 20_000,
      interval: 1,
    });
    run.stop();
    expect(run.status).toBe('stopped');
    const { done = 0 } = run.found ?? {};
    expect(done).toBeLessThan(ALL);
    expect(run.share).toBeCloseTo(done / ALL, 9);
    // what was on its way when it stopped comes to nothing
    await new Promise((then) => setTimeout(then, 100));
    expect(run.found?.done).toBe(done);

    run.resume();
    expect(run.status).toBe('running');
    await ended(run);
    expect(run.found?.done).toBe(ALL);
    expect(run.found?.ranges).toEqual([[0, ALL - 1]]);
    expect(run.secondsLeft).toBe(0);
    expect(run.found?.best).toHaveLength(24);
    const scores = run.found?.best.map(({ score }) => score) ?? [];
    expect(scores).toEqual([...scores].sort((a, b) => b - a));
    // a search that was not stopped finds the same
    const whole = running();
    whole.begin(builtIn('e9'), question);
    await ended(whole);
    expect(run.found?.best).toEqual(whole.found?.best);
  });

  it('begins anew with another question, and forgets the one before', async () => {
    const run = running();
    run.begin(builtIn('e9'), question);
    run.begin(builtIn('e9'), { ...question, stringsUpTo: 1 });
    expect(run.candidates).toBe(60);
    await ended(run);
    expect(run.found?.candidates).toBe(60);
    run.forget();
    expect([run.status, run.found, run.candidates, run.share]).toEqual(['idle', undefined, 0, 0]);
    run.resume();
    expect(run.status).toBe('idle');
  });

  it('that has nothing to try says so', () => {
    const run = running();
    const never = Array.from({ length: 10 }, (_, at) => ({ neck: 1, string: at + 1 }));
    run.begin(builtIn('e9'), { ...question, never });
    expect(run.failure).toBe('No string may be moved, so there is nothing to try.');
    expect(run.status).toBe('idle');
  });

  it('whose worker fails stops with a sentence, and can go on', async () => {
    let broken = true;
    const working = suggesting();
    const run = new SuggestRun(
      {
        ...working,
        within: (...given) =>
          broken ? Promise.resolve(refuse('out of memory')) : working.within(...given),
      },
      () => performance.now(),
    );
    run.begin(builtIn('e9'), { ...question, stringsUpTo: 1 });
    await vi.waitFor(() => expect(run.status).toBe('stopped'));
    expect(run.failure).toContain('out of memory');
    broken = false;
    run.resume();
    expect(run.failure).toBeUndefined();
    await ended(run);
    expect(run.found?.done).toBe(60);
  });
});
