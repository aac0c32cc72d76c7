/** What answers the page's questions: the engine's own answers, asked directly and in the same thread. */
import { ok, type Result } from '$lib/result';
import * as arrangeAnswers from '$lib/answers/arrange';
import { tally } from '$lib/answers/bench';
import * as changeAnswers from '$lib/answers/change';
import * as compareAnswers from '$lib/answers/compare';
import { ask, type JobName } from '$lib/answers/door';
import * as exploreAnswers from '$lib/answers/explore';
import { readQuestion, type Asked, type QuestionTexts } from '$lib/answers/question';
import { within } from '$lib/answers/suggest';
import type { Setup } from '$lib/setup/setup';
import { tune } from '$lib/tuning/tune';
import type { Counting } from '$lib/ui/bench/consequences.svelte';
import type { Weighing } from '$lib/ui/change/changeAnswer.svelte';
import type { Trying } from '$lib/ui/change/suggestRun.svelte';
import type { Weighing as Comparing } from '$lib/ui/compare/compare.svelte';
import { weighingOn } from '$lib/ui/compare/weighing';
import type { Searching } from '$lib/ui/explore/needs';
import type { Arranging } from '$lib/ui/arrange/progression.svelte';
import type { Tuned } from '$lib/ui/tuning/tuned.svelte';
import { WorkerPool } from '$lib/ui/worker/workerPool';
import { messageWorker } from './messageWorker';

/** An answer comes later, as one from another thread does. */
const later = <T>(job: () => T | Promise<T>): Promise<Result<T, string>> =>
  Promise.resolve()
    .then(job)
    .then((told) => ok(told));

/** A question without faults as the page asks it. */
export function askedOf(setup: Setup, texts: QuestionTexts): Asked {
  const read = readQuestion(setup, texts);
  if (!read.ok) throw new Error(`a question with ${read.error.length} faults`);
  return { texts, question: read.value };
}

export function searching(): Searching {
  let last: readonly [Setup, Asked] | undefined;
  return {
    ask: (setup, asked, most) =>
      later(() => {
        last = [setup, asked];
        return exploreAnswers.find(setup, asked, most);
      }),
    more: (from, most) =>
      later(() => (last === undefined ? [] : exploreAnswers.more(...last, from, most))),
  };
}

export const weighing = (): Weighing => ({
  weigh: (...given) => later(() => changeAnswers.weigh(...given)),
  picture: (...given) => later(() => changeAnswers.picture(...given)),
  rows: (...given) => later(() => changeAnswers.rows(...given)),
  lesson: (...given) => later(() => changeAnswers.lesson(...given)),
});

export const comparing = (): Comparing => {
  const jobs = { weighPair: compareAnswers.weighPair, entries: compareAnswers.entries };
  return weighingOn({
    ask: (job, ...given) =>
      later(() =>
        (jobs[job as keyof typeof jobs] as (...given: unknown[]) => never)(...(given as unknown[])),
      ),
  });
};

export const arranging = (): Arranging => ({
  arrange: (...given) => later(() => arrangeAnswers.arrange(...given)),
  arrangeTune: (...given) => later(() => arrangeAnswers.arrangeTune(...given)),
  alternatives: (...given) => later(() => arrangeAnswers.alternatives(...given)),
  onePull: (...given) => later(() => arrangeAnswers.onePull(...given)),
});

export const counting = (): Counting => (setup) => later(() => tally(setup));

export const tuning =
  (): ConstructorParameters<typeof Tuned>[0] =>
  (...given) =>
    later(() => tune(...given));

/** Those who try pull sets, a piece at a time. */
export const suggesting = (): Trying => ({
  hands: 1,
  // a task of its own, as a message is, so that a stop can come between two pieces
  within: (...given) => new Promise((done) => setTimeout(() => done(ok(within(...given))))),
  stop: () => undefined,
});

/** A pool whose workers are in the same thread; told of every question that reaches one. */
export const poolOf = (size: number, onjob: (job: JobName, given: readonly unknown[]) => void) =>
  new WorkerPool(
    () =>
      messageWorker({
        ask: (job: JobName, given: never) => {
          onjob(job, given);
          return ask(job, given);
        },
      }),
    size,
  );
