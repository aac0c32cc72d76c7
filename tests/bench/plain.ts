/**
 * What the index is measured against: the floor, a loop that forms the pitch-class set of every
 * candidate and does nothing with it; and the plain way, which asks `tonal` for the chord of each.
 */
import { Chord, Note } from 'tonal';
import { combinations } from '$lib/setup/reach';
import { sounding } from '$lib/setup/sounding';
import type { Setup } from '$lib/setup/setup';

/** Every grip of the asked sizes, as lists of strings from 0. */
export function gripsOf(strings: number, [fewest, most]: readonly [number, number]): number[][] {
  const grips: number[][] = [];
  const grow = (grip: number[], next: number): void => {
    if (grip.length >= fewest) grips.push(grip);
    if (grip.length === most) return;
    for (let string = next; string < strings; string++) grow([...grip, string], string + 1);
  };
  grow([], 0);
  return grips;
}

/** The loop over all candidates at the nut, its lists made beforehand. */
export function floorOf(setup: Setup, sizes: readonly [number, number]): () => number {
  const strings = setup.necks[0]?.strings.length ?? 0;
  const all = [...combinations(setup)];
  const bits = new Uint16Array(all.length * strings);
  all.forEach((engaged, row) =>
    sounding(setup, 1, engaged, 0).forEach((pitch, string) => {
      bits[row * strings + string] = 1 << (pitch % 12);
    }),
  );
  const grips = gripsOf(strings, sizes);
  const flat = Uint8Array.from(grips.flat());
  const ends = Uint32Array.from(
    grips,
    (
      (sum) => (grip) =>
        (sum += grip.length)
    )(0),
  );
  return () => {
    let check = 0;
    for (let row = 0; row < all.length; row++) {
      const base = row * strings;
      let at = 0;
      for (let grip = 0; grip < ends.length; grip++) {
        const end = ends[grip] as number;
        let set = 0;
        for (; at < end; at++) set |= bits[base + (flat[at] as number)] as number;
        check ^= set;
      }
    }
    return check;
  };
}

/** Candidates in all: combinations × frets × grips. */
export const candidateCount = (setup: Setup, sizes: readonly [number, number]): number =>
  [...combinations(setup)].length *
  (setup.frets + 1) *
  gripsOf(setup.necks[0]?.strings.length ?? 0, sizes).length;

/** Names some hundred candidates, spread evenly, with the library; gives how many. */
export function plainSample(setup: Setup, sizes: readonly [number, number], many = 400) {
  const all = [...combinations(setup)];
  const grips = gripsOf(setup.necks[0]?.strings.length ?? 0, sizes);
  return () => {
    for (let i = 0; i < many; i++) {
      const engaged = all[(i * 31) % all.length] ?? [];
      const grip = grips[(i * 7919) % grips.length] ?? [];
      const pitches = sounding(setup, 1, engaged, i % (setup.frets + 1));
      const names = grip
        .map((string) => pitches[string] ?? 0)
        .sort((a, b) => a - b)
        .map((midi) => Note.pitchClass(Note.fromMidi(midi)));
      Chord.detect([...new Set(names)]);
    }
    return many;
  };
}
