/** What a combination of controls does to the strings. */
import type { Midi } from '$lib/theory/pitch';
import { pullIn, type Engaged, type Setup } from './setup';

/** By string of a neck, string 1 first: semitones of the farthest engaged raise (≥ 0) and lower (≤ 0). */
export function farthest(
  setup: Setup,
  neck: number,
  engaged: readonly Engaged[],
): { readonly raise: readonly number[]; readonly lower: readonly number[] } {
  const strings = setup.necks[neck - 1]?.strings.length ?? 0;
  const raise = new Array<number>(strings).fill(0);
  const lower = new Array<number>(strings).fill(0);
  for (const { id, state } of engaged) {
    const control = setup.controls.find((each) => each.id === id);
    for (const pull of control?.pulls ?? []) {
      if (pull.neck !== neck) continue;
      const move = pullIn(pull, state);
      const index = pull.string - 1;
      raise[index] = Math.max(raise[index] ?? 0, move);
      lower[index] = Math.min(lower[index] ?? 0, move);
    }
  }
  return { raise, lower };
}

/**
 * Semitones by which each string of a neck is moved, string 1 first: the farthest engaged raise plus
 * the farthest engaged lower. Two raises do not add, nor two lowers; a raise and a lower do (a split).
 */
export function movesOf(setup: Setup, neck: number, engaged: readonly Engaged[]): number[] {
  const { raise, lower } = farthest(setup, neck, engaged);
  return raise.map((up, index) => up + (lower[index] ?? 0));
}

/** The strings of a neck that stand between a raise and a lower, string s (from 0) in bit s. */
export function splitStrings(setup: Setup, neck: number, engaged: readonly Engaged[]): number {
  if (engaged.length < 2) return 0;
  const { raise, lower } = farthest(setup, neck, engaged);
  return raise.reduce(
    (set, up, index) => (up > 0 && (lower[index] ?? 0) < 0 ? set | (1 << index) : set),
    0,
  );
}

/**
 * The strings of a neck that one control lets go and another takes up between two combinations, string s (from 0)
 * in bit s: nothing that moves them goes on.
 */
export function handedStrings(
  setup: Setup,
  neck: number,
  from: readonly Engaged[],
  to: readonly Engaged[],
): number {
  const moved = (some: readonly Engaged[], others: readonly Engaged[]): number =>
    some
      .filter(({ id }) => !others.some((each) => each.id === id))
      .flatMap(({ id }) => setup.controls.find((each) => each.id === id)?.pulls ?? [])
      .reduce((set, pull) => (pull.neck === neck ? set | (1 << (pull.string - 1)) : set), 0);
  return moved(from, to) & moved(to, from);
}

/** The pitch of every string of a neck, string 1 first, with the bar straight across at a fret. */
export function sounding(
  setup: Setup,
  neck: number,
  engaged: readonly Engaged[],
  fret: number,
): Midi[] {
  const strings = setup.necks[neck - 1]?.strings ?? [];
  return movesOf(setup, neck, engaged).map(
    (move, index) => (strings[index]?.open.midi ?? 0) + move + fret,
  );
}
