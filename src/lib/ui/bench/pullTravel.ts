/** Where a string's end lies for a pull, as a part of its track, and the way back. */
import { BOUNDS } from '$lib/setup/bounds';

export const MOST = BOUNDS.semitones[1];

/** Half a step is left free at both ends of the track. */
const STEPS = 2 * MOST + 2;

/** Percent of the track from its left end. */
export const shareOf = (semitones: number): number => (100 * (semitones + MOST + 1)) / STEPS;

/** The pull whose end is nearest to an x on a track. */
export const pullAtX = (x: number, width: number): number =>
  Math.max(-MOST, Math.min(MOST, Math.round((x / width) * STEPS - MOST - 1)));

/** The pull that a key leads to; `undefined` where the key means nothing to a string's end. */
export function pullByKey(key: string, now: number): number | undefined {
  const to: Readonly<Record<string, number>> = {
    ArrowRight: now + 1,
    ArrowUp: now + 1,
    ArrowLeft: now - 1,
    ArrowDown: now - 1,
    PageUp: now + 2,
    PageDown: now - 2,
    Home: -MOST,
    End: MOST,
    Delete: 0,
    Backspace: 0,
    '0': 0,
  };
  const wanted = to[key];
  return wanted === undefined ? undefined : Math.max(-MOST, Math.min(MOST, wanted));
}
