/**
 * The one door: every question of the page by its name. What few places ask is fetched when it is asked
 * for the first time; Explore's own questions stand ready, for they come first.
 */
import { find, more } from './explore';

/** Parts that answer several questions. */
const arrangePart = () => import('./arrange');
const changePart = () => import('./change');

const JOBS = {
  find,
  more,
  atlas: async (...given: Parameters<typeof import('./atlas').atlas>) =>
    (await import('./atlas')).atlas(...given),
  tally: async (...given: Parameters<typeof import('./bench').tally>) =>
    (await import('./bench')).tally(...given),
  weigh: async (...given: Parameters<typeof import('./change').weigh>) =>
    (await changePart()).weigh(...given),
  picture: async (...given: Parameters<typeof import('./change').picture>) =>
    (await changePart()).picture(...given),
  rows: async (...given: Parameters<typeof import('./change').rows>) =>
    (await changePart()).rows(...given),
  lesson: async (...given: Parameters<typeof import('./change').lesson>) =>
    (await changePart()).lesson(...given),
  within: async (...given: Parameters<typeof import('./suggest').within>) =>
    (await import('./suggest')).within(...given),
  weighPair: async (...given: Parameters<typeof import('./compare').weighPair>) =>
    (await import('./compare')).weighPair(...given),
  entries: async (...given: Parameters<typeof import('./compare').entries>) =>
    (await import('./compare')).entries(...given),
  arrange: async (...given: Parameters<typeof import('./arrange').arrange>) =>
    (await arrangePart()).arrange(...given),
  arrangeTune: async (...given: Parameters<typeof import('./arrange').arrangeTune>) =>
    (await arrangePart()).arrangeTune(...given),
  substitutions: async (...given: Parameters<typeof import('./arrange').substitutions>) =>
    (await arrangePart()).substitutions(...given),
  alternatives: async (...given: Parameters<typeof import('./arrange').alternatives>) =>
    (await arrangePart()).alternatives(...given),
  onePull: async (...given: Parameters<typeof import('./arrange').onePull>) =>
    (await arrangePart()).onePull(...given),
  tune: async (...given: Parameters<typeof import('$lib/tuning/tune').tune>) =>
    (await import('$lib/tuning/tune')).tune(...given),
};

export type Jobs = typeof JOBS;
export type JobName = keyof Jobs;
export type Given<J extends JobName> = Parameters<Jobs[J]>;
export type Told<J extends JobName> = Awaited<ReturnType<Jobs[J]>>;

/** Answers a question by its name. */
export const ask = async <J extends JobName>(job: J, given: Given<J>): Promise<Told<J>> =>
  (JOBS[job] as (...given: unknown[]) => Promise<Told<J>>)(...given);
