/** Where a pull can have its half-stop: at a whole semitone on the way from the open string. */

/**
 * The nearest and the farthest half-stop that a pull can have, in semitones from the open string and
 * with the sign of the pull; every whole semitone between them is one too. `undefined` for a pull of
 * one semitone or none, which has no whole semitone on its way.
 */
export function halfStopsOf(
  semitones: number,
): readonly [nearest: number, farthest: number] | undefined {
  if (Math.abs(semitones) < 2) return undefined;
  const one = Math.sign(semitones);
  return [one, semitones - one];
}

/** May a pull of so many semitones have its half-stop at `half`? Both count from the open string. */
export function mayHalt(semitones: number, half: number): boolean {
  const stops = halfStopsOf(semitones);
  if (stops === undefined || !Number.isInteger(half)) return false;
  return Math.min(...stops) <= half && half <= Math.max(...stops);
}
