/** Targets into a setup: one that was typed, or a whole tuning. */
import { refuse } from '$lib/result';
import { edited, type Edited } from '$lib/setup/edits/edited';
import type { Setup } from '$lib/setup/setup';
import { withTargets, type Target } from '$lib/tuning/targets';
import type { Tuning } from '$lib/tuning/tune';

/** A target in cents as a player wrote it; an empty text takes it out. */
export function writeTarget(setup: Setup, target: Target, text: string): Edited {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  if (plain === '') return edited(withTargets(setup, [{ ...target, cents: undefined }]));
  if (!/^[+-]?\d+(\.\d+)?$/.test(plain)) return refuse(`“${text}” is no number.`);
  const cents = Number(plain);
  if (Math.abs(cents) > 100) return refuse(`found ${plain}; allowed is −100 to 100 cents.`);
  return edited(withTargets(setup, [{ ...target, cents }]));
}

export const takeOver = (setup: Setup, { targets }: Tuning): Edited =>
  edited(withTargets(setup, targets));
