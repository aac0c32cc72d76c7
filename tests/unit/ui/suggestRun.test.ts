/** A search for pulls on the page, with desks that find nothing but say what they have tried. */
import { expect, it, vi } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { CandidateRange, SuggestQuestion, Suggestions } from '$lib/coverage/suggestion';
import { SuggestRun } from '$lib/ui/change/suggestRun.svelte';
import { messageWorker } from './messageWorker';

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
  const desk = {
    prepare: () => undefined,
    within: ([first, last]: CandidateRange): Suggestions => {
      note();
      pieces += 1;
      clock += PIECE_MS;
      return {
        ...{ question: 'q', limit: 24, candidates: run.candidates, best: [] },
        ...{ ranges: [[first, last]], done: last - first + 1 },
      };
    },
  };
  const run: SuggestRun = new SuggestRun(
    () => messageWorker(desk),
    2,
    () => clock,
  );
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
