/** How a pitch of a neck's tuning is written, open or pulled: as in its copedent. */
import { chromaOf, pitchNamed, type Midi, type Pitch } from '$lib/theory/pitch';
import { spelledBy } from './spelledBy';
import type { Neck } from './setup';

/** By the one speller of a neck, so that copedent, tuning and bench sheet agree. */
export const tuningPitch = (neck: Neck | undefined, midi: Midi): Pitch =>
  pitchNamed(spelledBy(neck)(chromaOf(midi)), midi);
