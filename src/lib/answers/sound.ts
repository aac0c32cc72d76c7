/** The other direction: what sounds when the bar lies here, these controls are engaged, these strings picked. */
import { namedPitches, type NamedPitches } from '$lib/theory/namedPitches';
import { chromaOf, type Midi } from '$lib/theory/pitch';
import type { Key } from '$lib/theory/spelling';
import { homeRoot } from '$lib/setup/homeChord';
import type { Setup } from '$lib/setup/setup';
import { pitchesOf, type Hold } from '$lib/search/hold';

export interface Sound extends NamedPitches {
  /** By picked string. */
  readonly pitches: readonly Midi[];
}

/**
 * Sounds and names what a player holds. The strings must exist.
 *
 * @param limit how many names at most
 */
export function soundOf(setup: Setup, hold: Hold, key?: Key, limit?: number): Sound {
  const pitches = pitchesOf(setup, hold);
  const played = setup.necks[hold.neck - 1];
  const root = played && homeRoot(played);
  // a slanted bar lies on no one chord
  const home = root === undefined || hold.slant !== 0 ? undefined : chromaOf(root + hold.fret);
  return {
    pitches,
    ...namedPitches(pitches, {
      ...(key === undefined ? {} : { key }),
      ...(home === undefined ? {} : { home }),
      ...(limit === undefined ? {} : { limit }),
    }),
  };
}
