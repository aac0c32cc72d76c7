/** A voicing of a chord as JSON has it, the same from every job. */
import type { Chord } from '$lib/theory/chord';
import { pitchText } from '$lib/theory/pitch';
import { spelled, toneAt, type SpelledTone } from '$lib/theory/toneNames';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import type { Voicing } from '$lib/search/voicing';

/** Where a voicing lies and what it sounds: pitches are MIDI numbers, in the order of the strings. */
export const soundingJson = (tones: readonly SpelledTone[], voicing: Voicing) => ({
  neck: voicing.neck,
  fret: voicing.fret,
  slant: voicing.slant,
  strings: voicing.strings,
  frets: voicing.frets,
  notes: voicing.pitches.map((midi) => pitchText(spelled(tones, midi))),
  pitches: voicing.pitches,
  tones: voicing.pitches.map((midi) => toneAt(tones, midi)?.degree ?? ''),
  missing: voicing.missing,
  ways: voicing.ways,
});

/** The same with its effort. */
export const voicingJson = ({ tones }: Chord, { voicing, effort }: RankedVoicing) => ({
  ...soundingJson(tones, voicing),
  effort,
});
