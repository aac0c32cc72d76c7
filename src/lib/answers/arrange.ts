/** What Progression asks: plain data in, plain data out. */
import { onePullFor, type OnePull } from '$lib/arrange/onePull';
import type { Step } from '$lib/arrange/progression';
import type { Wishes } from '$lib/arrange/wishes';
import type { Setup } from '$lib/setup/setup';
import { workingRanges } from '$lib/strings/strains';

export { alternatives } from '$lib/arrange/alternatives';
export { arrange } from '$lib/arrange/arrange';
export { substitutionsIn as substitutions } from '$lib/arrange/substituting';
export { arrangeTune } from '$lib/arrange/tune';

/** Pulls that would make a chord playable; none that break or slacken a string of known gauge. */
export const onePull = (setup: Setup, wishes: Wishes, step: Step, index: number): OnePull[] =>
  onePullFor(setup, wishes, step, index, workingRanges(setup));
