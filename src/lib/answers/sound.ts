/** The other direction: what sounds when the bar lies here, these controls are engaged, these strings picked. */
import { namedPitches, type NamedPitches } from '$lib/theory/namedPitches';
import { pcSetOf, sizeOf } from '$lib/theory/pcset';
import { chromaOf, type Chroma, type Midi } from '$lib/theory/pitch';
import type { Key } from '$lib/theory/spelling';
import { homeRoot, homeSixth } from '$lib/setup/homeChord';
import { isInSecondHome, secondHome } from '$lib/setup/secondHome';
import type { Setup } from '$lib/setup/setup';
import { pitchesOf, type Hold } from '$lib/search/hold';

export interface Sound extends NamedPitches {
  /** By picked string. */
  readonly pitches: readonly Midi[];
}

/** The root of the sixth chord under the bar, where the tuning that is played is called by one. */
function sixthUnder(setup: Setup, { neck, engaged, fret }: Hold): Chroma | undefined {
  const second = engaged.length === 0 ? undefined : secondHome(setup, neck);
  const played = setup.necks[neck - 1];
  const root =
    second !== undefined && isInSecondHome(second, engaged)
      ? second.roots[0]
      : played && homeSixth(played);
  return root === undefined ? undefined : chromaOf(root + fret);
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
  const sixth =
    sizeOf(pcSetOf(pitches)) === 4 && hold.slant === 0 ? sixthUnder(setup, hold) : undefined;
  return {
    pitches,
    ...namedPitches(pitches, {
      ...(key === undefined ? {} : { key }),
      ...(home === undefined ? {} : { home }),
      ...(sixth === undefined ? {} : { sixth }),
      ...(limit === undefined ? {} : { limit }),
    }),
  };
}
