/** How far a setup pulls each string up and down. */
import type { Setup } from '$lib/setup/setup';

export interface Compass {
  /** Semitones of the greatest raise, 0 or more. */
  readonly up: number;
  /** Semitones of the greatest lower, 0 or less. */
  readonly down: number;
}

/**
 * The greatest raise and lower of a string. Two raises do not add, and a lower engaged with a raise
 * only takes from it, so that the ends of the compass are those of single pulls.
 */
export function compassOf(setup: Setup, neck: number, string: number): Compass {
  let up = 0;
  let down = 0;
  for (const control of setup.controls)
    for (const pull of control.pulls) {
      if (pull.neck !== neck || pull.string !== string) continue;
      up = Math.max(up, pull.semitones);
      down = Math.min(down, pull.semitones);
    }
  return { up, down };
}
