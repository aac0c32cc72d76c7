/** A question answered: the ranked voicings of a chord. */
import type { Setup } from '$lib/setup/setup';
import { compile } from '$lib/engine/instrument';
import { rankedVoicings, type RankedVoicings } from '$lib/engine/rankedVoicings';
import type { Question } from './question';

export const answer = (setup: Setup, question: Question): RankedVoicings =>
  rankedVoicings(compile(setup), question);
