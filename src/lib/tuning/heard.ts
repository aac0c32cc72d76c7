/** The pitches that are heard where a player holds something: those that are named, and their cents. */
import type { Chroma, Midi } from '$lib/theory/pitch';
import { sounding } from '$lib/setup/sounding';
import type { Setup } from '$lib/setup/setup';
import { centsOf } from '$lib/setup/targets';
import { fretsAheadOf, type Touched } from '$lib/effort/touched';
import { justCents } from './just';

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
  touched: Touched,
  intonation: Intonation = 'setup',
  root?: Chroma,
): HeardPitch[] {
  const { neck, engaged, fret, strings } = touched;
  const named = sounding(setup, neck, engaged, fret);
  const ahead = fretsAheadOf(touched);
  const targets = centsOf(setup, neck, engaged);
  return strings.map((string, stop) => {
    const midi = (named[string - 1] ?? 0) + (ahead?.[stop] ?? 0);
    const cents = {
      setup: targets[string - 1] ?? 0,
      equal: 0,
      just: root === undefined ? 0 : justCents(midi, root),
    }[intonation];
    return { string, midi: midi + cents / 100 };
  });
}
