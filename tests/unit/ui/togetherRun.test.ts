/** A search over two stations on the page: stopped, kept, and gone on with when the page is opened again. */
import { expect, it, vi } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { ok } from '$lib/result';
import { planTogether, boundsTogether, toldTogether, withinTogether } from '$lib/answers/together';
import type { TogetherQuestion } from '$lib/coverage/together';
import { TogetherRun, type TryingTogether } from '$lib/ui/change/together/togetherRun.svelte';

const SETUP = builtIn('lap6-c6');
const QUESTION: TogetherQuestion = {
  stringsUpTo: 1,
  slants: false,
  sizes: [3, 3],
  wishes: [{ type: '', weight: 1 }],
  keep: [],
  never: [],
  places: [
    { id: 'LKV', station: 'LKV' },
    { id: 'RKV', station: 'RKV' },
  ],
  limit: 6,
};

it('goes on where it was stopped, also in another page, and comes to the end of one that was not', async () => {
  let kept = '';
  const keeping = { read: () => kept, write: (text: string) => void (kept = text) };
  let pieces = 0;
  let current: TogetherRun | undefined;
  const trying = (upTo: number): TryingTogether => ({
    hands: 1,
    // a unit a piece, so that there is something to stop
    plan: async (setup, question, done) => {
      const plan = planTogether(setup, question, done);
      return Promise.resolve(
        ok({
          ...plan,
          pieces: plan.pieces.flatMap(([from, to]) =>
            Array.from({ length: to - from + 1 }, (_, at) => [from + at, from + at] as const),
          ),
        }),
      );
    },
    within: async (...given) => {
      if (++pieces === upTo) current?.stop();
      return Promise.resolve(ok(withinTogether(...given)));
    },
    bounds: async (...given) => Promise.resolve(ok(boundsTogether(...given))),
    told: async (...given) => Promise.resolve(ok(toldTogether(...given))),
    stop: () => undefined,
  });
  let clock = 0;
  const opened = async (upTo: number, version = 'one'): Promise<TogetherRun> => {
    const run = new TogetherRun(trying(upTo), keeping, version, () => (clock += 1000));
    current = run;
    await run.open(SETUP, QUESTION, true);
    return run;
  };
  let run: TogetherRun = await opened(10);
  expect(run.status).toBe('idle');
  run.resume();
  await vi.waitFor(() => expect(run.status).toBe('stopped'));
  // what was under way when it was stopped is nobody's: nine of the ten are done
  expect(run.found?.ranges).toEqual([[0, 8]]);

  // another version has nothing of it, and the same one in a new page stands where it was
  const other = await opened(0, 'two');
  expect(other.status).toBe('idle');
  expect(await other.begun(SETUP)).toBeUndefined();
  pieces = 0;
  run = await opened(0);
  // which question it was is told too, of this setup alone
  expect(await run.begun(SETUP)).toEqual({ question: QUESTION, bySongs: true });
  expect(await run.begun(builtIn('lap6-a6'))).toBeUndefined();
  expect(run.status).toBe('stopped');
  expect(run.found?.ranges).toEqual([[0, 8]]);
  run.resume();
  await vi.waitFor(() => expect(run.status).toBe('done'));
  expect(run.found?.done).toBe(run.candidates);
  // six strings, each three semitones up or down: one station, the other, both
  expect(run.candidates).toBe(36 + 36 + 36 ** 2);
  const [best, frontier] = [run.found?.best, run.found?.frontier];
  await vi.waitFor(() => expect(run.best.length).toBe(6));
  expect(run.frontier.map(({ strings }) => strings)).toEqual([1, 2]);

  await run.startOver();
  await vi.waitFor(() => expect(run.status).toBe('done'));
  expect(run.found?.best).toEqual(best);
  expect(run.found?.frontier).toEqual(frontier);
});
