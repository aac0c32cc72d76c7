/** The pitches that are heard where a player holds something: those that are named, and their cents. */
import type { Chroma, Midi } from '$lib/theory/pitch';
import type { Setup } from '$lib/setup/setup';
import { centsOf } from '$lib/setup/targets';
import { pitchesOf, type Hold } from '$lib/search/hold';
import type { Voicing } from '$lib/search/voicing';
import { justCents } from './just';

/** How what is held is heard; the first is the usual one. */
export const INTONATIONS = ['setup', 'equal', 'just'] as const;
/** As the setup is tuned; in equal temperament; just over the chord's root. */
export type Intonation = (typeof INTONATIONS)[number];

export interface HeardPitch {
  /** From 1. */
  readonly string: number;
  /** In semitones; a fraction is cents. */
  readonly midi: Midi;
}

/** The pitches of the picked strings. Without a root there is nothing to be just over. */
export function heardPitches(
  setup: Setup,
  hold: Hold,
  intonation: Intonation = 'setup',
  root?: Chroma,
): HeardPitch[] {
  const { neck, engaged, strings } = hold;
  const targets = centsOf(setup, neck, engaged);
  return pitchesOf(setup, hold).map((midi, stop) => {
    const string = strings[stop] ?? 0;
    const cents = {
      setup: targets[string - 1] ?? 0,
      equal: 0,
      just: root === undefined ? 0 : justCents(midi, root),
    }[intonation];
    return { string, midi: midi + cents / 100 };
  });
}

/** The pitches of a voicing as the setup is tuned, played the cheapest way. */
export const heardVoicing = (
  setup: Setup,
  { neck, fret, slant, strings, ways: [engaged = []] }: Voicing,
): HeardPitch[] => heardPitches(setup, { neck, fret, slant, strings, engaged });
