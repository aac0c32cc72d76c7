/** What a tuning makes of the chords, as rows: which are shown, and which are better or worse off. */
import type { TunedUse, Tuning } from '$lib/tuning/tune';

/** How many chords are shown before all are asked for. */
const FEW = 12;
/** Less than what is shown, in cents, is no change. */
const SEEN_CENTS = 0.05;

export interface ChordRow {
  readonly use: TunedUse;
  /** Against equal temperament; undefined where it is the same. */
  readonly verdict: 'better' | 'worse' | undefined;
}

function verdictOf({ before, after }: TunedUse): ChordRow['verdict'] {
  const by = after.residual - before.residual;
  return Math.abs(by) < SEEN_CENTS ? undefined : by > 0 ? 'worse' : 'better';
}

/**
 * All voicings; or the first of each of the first chords, as a repertoire is seen whole before its grips
 * are, and all that are worse off.
 */
export function chordRows({ uses }: Tuning, all: boolean): ChordRow[] {
  const rows = uses.map((use) => ({ use, verdict: verdictOf(use) }));
  if (all) return rows;
  const first = new Set<TunedUse>();
  const symbols = new Set<string>();
  for (const use of uses) {
    if (symbols.has(use.use.symbol) || symbols.size === FEW) continue;
    symbols.add(use.use.symbol);
    first.add(use);
  }
  return rows.filter(({ use, verdict }) => first.has(use) || verdict === 'worse');
}

/** How many voicings are worse off than in equal temperament. */
export const worseCount = ({ uses }: Tuning): number =>
  uses.filter((use) => verdictOf(use) === 'worse').length;
