/**
 * The one door: every question of the page by its name. What few places ask is fetched when it is asked
 * for the first time; Explore's own questions stand ready, for they come first.
 */
import { find, more } from './explore';

/** A question of a part that is fetched when it is asked for the first time. */
const fetched =
  <Part, Name extends keyof Part>(part: () => Promise<Part>, name: Name) =>
  async (
    ...given: Part[Name] extends (...given: infer Given) => unknown ? Given : never
  ): Promise<Part[Name] extends (...given: never[]) => infer Answer ? Awaited<Answer> : never> =>
    ((await part())[name] as (...given: unknown[]) => never)(...given);

/** Parts that answer several questions. */
const arrangePart = () => import('./arrange');
const changePart = () => import('./change');
const togetherPart = () => import('./together');
const onwardPart = () => import('./onward');
const songsPart = () => import('./songs');
const practicePart = () => import('./practice');
const scalesPart = () => import('./scaleView');

/** Fetches a part ahead of its first question, where that is likely to come next. */
const ready = async (part: 'onward' | 'scales'): Promise<void> => {
  await { onward: onwardPart, scales: scalesPart }[part]();
};

const JOBS = {
  find,
  more,
  ready,
  book: fetched(() => import('./book'), 'bookOf'),
  atlas: fetched(() => import('./atlas'), 'atlas'),
  tally: fetched(() => import('./bench'), 'tally'),
  weigh: fetched(changePart, 'weigh'),
  picture: fetched(changePart, 'picture'),
  rows: fetched(changePart, 'rows'),
  lesson: fetched(changePart, 'lesson'),
  within: fetched(() => import('./suggest'), 'within'),
  planTogether: fetched(togetherPart, 'planTogether'),
  withinTogether: fetched(togetherPart, 'withinTogether'),
  boundsTogether: fetched(togetherPart, 'boundsTogether'),
  toldTogether: fetched(togetherPart, 'toldTogether'),
  weighPair: fetched(() => import('./compare'), 'weighPair'),
  entries: fetched(() => import('./compare'), 'entries'),
  songBetween: fetched(songsPart, 'songBetween'),
  songOnBoth: fetched(songsPart, 'songOnBoth'),
  songRepertoire: fetched(songsPart, 'songRepertoire'),
  songNow: fetched(songsPart, 'songNow'),
  songsWith: fetched(songsPart, 'songsWith'),
  arrange: fetched(arrangePart, 'arrange'),
  arrangeTune: fetched(arrangePart, 'arrangeTune'),
  substitutions: fetched(arrangePart, 'substitutions'),
  alternatives: fetched(arrangePart, 'alternatives'),
  onePull: fetched(arrangePart, 'onePull'),
  leadsFrom: fetched(onwardPart, 'leadsFrom'),
  passageOffers: fetched(onwardPart, 'passageOffers'),
  passagesFor: fetched(onwardPart, 'passagesFor'),
  placePhrase: fetched(onwardPart, 'placePhrase'),
  scales: fetched(scalesPart, 'scales'),
  practiceCourse: fetched(practicePart, 'practiceCourse'),
  practiceTask: fetched(practicePart, 'practiceTask'),
  tune: fetched(() => import('$lib/tuning/tune'), 'tune'),
};

export type Jobs = typeof JOBS;
export type JobName = keyof Jobs;
export type Given<J extends JobName> = Parameters<Jobs[J]>;
export type Told<J extends JobName> = Awaited<ReturnType<Jobs[J]>>;

/** Answers a question by its name. */
export const ask = async <J extends JobName>(job: J, given: Given<J>): Promise<Told<J>> =>
  (JOBS[job] as (...given: unknown[]) => Promise<Told<J>>)(...given);
