/** Phrases asked in texts: for the page and the terminal alike. */
import { keyText, parseKey, type Key } from '$lib/theory/spelling';
import type { Setup } from '$lib/setup/setup';
import { phraseOf } from '$lib/phrases/phrases';
import { placed, type PlacedPhrase } from '$lib/phrases/placed';

/** Major keys and the minor ones of the same signature, from seven flats to seven sharps. */
const RELATIVE =
  'Cb Abm Gb Ebm Db Bbm Ab Fm Eb Cm Bb Gm F Dm C Am G Em D Bm A F#m E C#m B G#m F# D#m C# A#m'
    .split(' ')
    .flatMap((text) => parseKey(text) ?? []);

/** A key itself where it is of a mode, else the one of that mode with the same signature. */
function keyForMode(key: Key, mode: Key['mode']): Key {
  const own = RELATIVE.findIndex((each) => keyText(each) === keyText(key));
  // major and minor stand side by side
  return key.mode === mode || own < 0 ? key : (RELATIVE[own + (mode === 'minor' ? 1 : -1)] ?? key);
}

/**
 * A phrase on a setup, in a key; in the relative one where the phrase is of the other mode. `undefined` where
 * there is no phrase of this id.
 *
 * @param slants the bar may be slanted; where left out, on setups without pedals
 */
export function placePhrase(
  setup: Setup,
  id: string,
  key: Key,
  slants?: boolean,
): PlacedPhrase | undefined {
  const phrase = phraseOf(id);
  return phrase && placed(setup, phrase, keyForMode(key, phrase.mode), slants);
}
