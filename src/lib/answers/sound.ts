/** The other direction: what sounds when the bar lies here, these controls are engaged, these strings picked. */
import { intervalName } from '$lib/theory/intervalName';
import { namesOf, type ChordName } from '$lib/theory/names';
import { pcSetOf, sizeOf } from '$lib/theory/pcset';
import { chromaOf, type Midi } from '$lib/theory/pitch';
import type { Key } from '$lib/theory/spelling';
import type { Setup } from '$lib/setup/setup';
import { pitchesOf, type Hold } from '$lib/search/hold';

export interface Sound {
  /** By picked string. */
  readonly pitches: readonly Midi[];
  /** Best first; none for fewer than two pitch classes. */
  readonly names: readonly ChordName[];
  /** For exactly two pitches of different sound, or one pitch class in octaves: the interval. */
  readonly interval?: string;
}

/** Sounds and names what a player holds. The strings must exist. */
export function soundOf(setup: Setup, hold: Hold, key?: Key): Sound {
  const pitches = pitchesOf(setup, hold);
  const set = pcSetOf(pitches);
  const low = Math.min(...pitches);
  const high = Math.max(...pitches);
  const names =
    sizeOf(set) < 2 ? [] : namesOf(set, chromaOf(low), key === undefined ? {} : { key });
  return {
    pitches,
    names,
    ...(pitches.length > 1 && sizeOf(set) <= 2 ? { interval: intervalName(low, high) } : {}),
  };
}
