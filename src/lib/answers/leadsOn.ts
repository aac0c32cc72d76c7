/** What leads on from a hold, asked in texts: for the page and the terminal alike. */
import type { Chord } from '$lib/theory/chord';
import { readChord } from '$lib/theory/readChord';
import { parseKey, type Key } from '$lib/theory/spelling';
import type { Setup } from '$lib/setup/setup';
import type { Hold } from '$lib/search/hold';
import { keyFrom, leadsOn, type LedTo } from '$lib/scales/leadsOn';
import { soundOf } from './sound';

/** The chords that a hold leads on to. */
export interface LeadsOn {
  /** In which they are chords of the key; `undefined` where none was asked and the hold has no name. */
  readonly key: Key | undefined;
  /** As `leadsOn` orders them. */
  readonly chords: readonly LedTo[];
}

/** The chord that a hold is heard as; `undefined` where it has no name. */
export function chordHeard(setup: Setup, hold: Hold, key?: Key): Chord | undefined {
  const [name] = soundOf(setup, hold, key).names;
  if (name === undefined) return undefined;
  // what is left out and added stands in brackets behind the name
  const read = readChord(name.symbol.replace(/\/.*$/, '').replace(/\(no[^)]*\)$/, ''));
  return read.ok && read.value !== 'no chord' ? read.value : undefined;
}

/**
 * What leads on from a hold.
 *
 * @param key as it is typed; that of the chord where it is empty or none
 * @param symbol the chord that the hold is played as; what it is heard as where left out
 */
export function leadsFrom(setup: Setup, hold: Hold, key = '', symbol = ''): LeadsOn {
  const asked = parseKey(key);
  const named = symbol === '' ? undefined : readChord(symbol);
  const own =
    named?.ok === true && named.value !== 'no chord' ? named.value : chordHeard(setup, hold, asked);
  const home = asked ?? (own && keyFrom(own));
  return { key: home, chords: home === undefined ? [] : leadsOn(setup, hold, home) };
}
