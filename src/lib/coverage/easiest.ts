/**
 * The easiest way to each chord with the bar still, on the grips that are asked for: what a control's
 * chords are held against, to say that nothing as easy gives them.
 */
import { chromaOf } from '$lib/theory/pitch';
import type { Choice } from '$lib/setup/reach';
import { openMidi, type Setup } from '$lib/setup/setup';
import { farthest } from '$lib/setup/sounding';
import { gripOf } from '$lib/search/grip';
import { Feet } from '$lib/effort/feet';
import { homeStrings } from '$lib/effort/picking';
import { feetPrice, pickingPrice } from '$lib/effort/prices';
import { SPLIT } from './uses';
import type { ClearChords } from './yardstick';

/** One way to a chord. */
export interface Way {
  /** From 1. */
  readonly neck: number;
  readonly strings: readonly number[];
  readonly engaged: Choice;
  /** Feet, picking hand and what a split costs, in thousandths. */
  readonly effort: number;
}

/**
 * By chord number the easiest ways to it, those first: one for every hold and grip that takes no more
 * than `within` (in thousandths) above the easiest.
 *
 * @param holds what is engaged, one hold after another
 * @param grips by neck
 */
export function easiestWays(
  setup: Setup,
  holds: readonly Choice[],
  grips: readonly (readonly (readonly number[])[])[],
  clear: ClearChords,
  within: number,
): Map<number, Way[]> {
  const least = new Map<number, number>();
  const ways = new Map<number, Way[]>();
  const legs = new Feet(setup);
  const feet = holds.map((engaged) => feetPrice(legs, engaged));
  setup.necks.forEach((neck, index) => {
    const open = openMidi(neck);
    const home = homeStrings(neck);
    const priced = (grips[index] ?? []).map((strings) => ({
      strings,
      picking: pickingPrice(neck, gripOf(strings), home),
    }));
    holds.forEach((engaged, at) => {
      const { raise, lower } = farthest(setup, index + 1, engaged);
      const chromas = open.map(
        (pitch, s) => 1 << chromaOf(pitch + (raise[s] ?? 0) + (lower[s] ?? 0)),
      );
      const isSplit = raise.map((up, s) => up > 0 && (lower[s] ?? 0) < 0);
      for (const { strings, picking } of priced) {
        let set = 0;
        let split = 0;
        for (const string of strings) {
          set |= chromas[string - 1] ?? 0;
          if (isSplit[string - 1] === true) split = SPLIT;
        }
        const effort = (feet[at] ?? 0) + picking + split;
        for (const chordNumber of clear[set] ?? []) {
          const best = least.get(chordNumber) ?? Infinity;
          if (effort > best + within) continue;
          if (effort < best) least.set(chordNumber, effort);
          const all = ways.get(chordNumber);
          const way = { neck: index + 1, strings, engaged, effort };
          if (all === undefined) ways.set(chordNumber, [way]);
          else all.push(way);
        }
      }
    });
  });
  for (const [chordNumber, all] of ways) {
    const best = least.get(chordNumber) ?? 0;
    ways.set(
      chordNumber,
      all.filter(({ effort }) => effort <= best + within).sort((a, b) => a.effort - b.effort),
    );
  }
  return ways;
}
