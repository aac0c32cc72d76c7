/** A voicing as a player reads it. */
import { transpose, type PcSet } from '$lib/theory/pcset';
import type { Midi } from '$lib/theory/pitch';
import type { Choice } from '$lib/setup/reach';
import type { WantedSet } from './find';
import { stringsIn } from './grip';
import type { NutIndex } from './nutIndex';

export interface Voicing {
  /** From 1. */
  readonly neck: number;
  /** Where the bar lies; under a slanted bar, where it stops the grip's nearest string. */
  readonly fret: number;
  /** Frets by which the bar's far end is ahead (behind where negative); 0 is straight. */
  readonly slant: number;
  /** From 1, ascending. */
  readonly strings: readonly number[];
  /** The fret at each of the strings. */
  readonly frets: readonly number[];
  /** The pitch of each of the strings. */
  readonly pitches: readonly Midi[];
  readonly pitchClasses: PcSet;
  /** Degrees of the wanted chord that it lacks. */
  readonly missing: readonly string[];
  /** Cheapest first; the first is the one to show. */
  readonly ways: readonly Choice[];
}

/** Voicing number `voicing` of an index with the bar at a fret. */
export function voicingAt(
  index: NutIndex,
  voicing: number,
  fret: number,
  sets: readonly WantedSet[] = [],
): Voicing {
  const { on } = index;
  const strings = stringsIn(index.grip[voicing] ?? 0);
  const slanted = index.slantAt(voicing);
  const frets = strings.map((_, stop) => fret + (slanted?.ahead[stop] ?? 0));
  const pitches = index.pitchesAtNut(voicing).map((pitch) => pitch + fret);
  const pitchClasses = pitches.reduce((set, pitch) => set | transpose(1, pitch), 0);
  return {
    neck: on.neck,
    fret,
    slant: slanted?.slant ?? 0,
    strings,
    frets,
    pitches,
    pitchClasses,
    missing: sets.find(({ set }) => set === pitchClasses)?.missing ?? [],
    ways: index.waysOf(voicing).map((way) => on.engaged[way] ?? []),
  };
}
