/** What the Bench asks: how many voicings a setup has of each everyday chord type. */
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { countByType, type TypeCount } from '$lib/coverage/typeShapes';
import type { Setup } from '$lib/setup/setup';

export const tally = (setup: Setup): TypeCount[] => countByType(setup, EVERYDAY_REPERTOIRE);
