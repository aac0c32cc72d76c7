/** Targets into a setup: one that was typed, or a whole tuning. */
import { ok, refuse, type Result } from '$lib/result';
import { edited, type Edited } from '$lib/setup/edits/edited';
import type { Setup } from '$lib/setup/setup';
import { withTargets, type Target } from '$lib/tuning/targets';
import type { Tuning } from '$lib/tuning/tune';

/** Cents as a player wrote them; nothing where the text is empty; a sentence where they are none. */
export function readCents(text: string): Result<number | undefined, string> {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  if (plain === '') return ok(undefined);
  if (!/^[+-]?\d+(\.\d+)?$/.test(plain)) return refuse(`“${text}” is no number.`);
  const cents = Number(plain);
  if (Math.abs(cents) > 100) return refuse(`found ${plain}; allowed is −100 to 100 cents.`);
  return ok(cents);
}

/** A target in cents as a player wrote it; an empty text takes it out. */
export function writeTarget(setup: Setup, target: Target, text: string): Edited {
  const read = readCents(text);
  return read.ok ? edited(withTargets(setup, [{ ...target, cents: read.value }])) : read;
}

/**
 * A whole tuning. What no chord decides and what stays at equal temperament for want of anything better
 * is left without a target, so that the setup does not say what nobody decided.
 */
export const takeOver = (setup: Setup, { targets }: Tuning): Edited =>
  edited(
    withTargets(
      setup,
      targets.map((target) =>
        target.given?.as === 'equal' ? { ...target, cents: undefined } : target,
      ),
    ),
  );
