/** What answers the page's questions: the workers' own desks, asked directly and in the same thread. */
import { ok, type Result } from '$lib/result';
import { BenchDesk } from '$lib/ui/bench/benchDesk';
import type { Counting } from '$lib/ui/bench/consequences.svelte';
import type { Weighing } from '$lib/ui/change/change.svelte';
import { ChangeDesk } from '$lib/ui/change/changeDesk';
import { SuggestDesk } from '$lib/ui/change/suggestDesk';
import type { Weighing as Comparing } from '$lib/ui/compare/compare.svelte';
import { CompareDesk } from '$lib/ui/compare/compareDesk';
import type { Searching } from '$lib/ui/explore/explore.svelte';
import { SearchDesk } from '$lib/ui/explore/searchDesk';
import { ArrangeDesk } from '$lib/ui/progression/arrangeDesk';
import type { Arranging } from '$lib/ui/progression/progression.svelte';
import { TuneDesk } from '$lib/ui/tuning/tuneDesk';
import type { Tuned } from '$lib/ui/tuning/tuned.svelte';
import { messageWorker } from './messageWorker';

/** An answer comes later, as one from another thread does. */
const later = <T>(job: () => T): Promise<Result<T, string>> =>
  Promise.resolve().then(() => ok(job()));

export function searching(): Searching {
  const desk = new SearchDesk();
  return {
    ask: (setup, texts, most) =>
      later(() => {
        desk.use(setup);
        return desk.ask(texts, most);
      }),
    more: (from, most) => later(() => desk.more(from, most)),
  };
}

export function weighing(): Weighing {
  const desk = new ChangeDesk();
  const answering = {
    weigh: async (...given: Parameters<ChangeDesk['weigh']>) =>
      Promise.resolve(desk.weigh(...given)),
    picture: async (...given: Parameters<ChangeDesk['picture']>) =>
      Promise.resolve(desk.picture(...given)),
    rows: async (...given: Parameters<ChangeDesk['rows']>) => Promise.resolve(desk.rows(...given)),
    lesson: async (...given: Parameters<ChangeDesk['lesson']>) =>
      Promise.resolve(desk.lesson(...given)),
  };
  return { ask: async (job) => ok(await job(answering)) };
}

export function comparing(): Comparing {
  const desk = new CompareDesk();
  return {
    weigh: (...given) => later(() => desk.weigh(...given)),
    entries: (...given) => later(() => desk.entries(...given)),
  };
}

export function arranging(): Arranging {
  const desk = new ArrangeDesk();
  return {
    arrange: (...given) => later(() => desk.arrange(...given)),
    onePull: (...given) => later(() => desk.onePull(...given)),
  };
}

export function counting(): Counting {
  const desk = new BenchDesk();
  return (setup) => later(() => desk.tally(setup));
}

export function tuning(): ConstructorParameters<typeof Tuned>[0] {
  const desk = new TuneDesk();
  return (...given) => later(() => desk.tune(...given));
}

/** A worker that tries pull sets. */
export const suggesting = (): Worker => messageWorker(new SuggestDesk());
