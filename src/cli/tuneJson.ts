/** A tune in a texture as JSON: each step with its time and how every string is reached. */
import { pitchText } from '$lib/theory/pitch';
import { keyText } from '$lib/theory/spelling';
import { spelled } from '$lib/theory/toneNames';
import { keyOf } from '$lib/arrange/findKey';
import type { Progression, ProgressionFault } from '$lib/arrange/progression';
import { lackText } from '$lib/answers/tuneText';
import { harmonicOf, type StruckStep } from '$lib/arrange/strike';
import type { SoundingHold } from '$lib/effort/move';
import { fretsAheadOf } from '$lib/search/hold';
import type { TuneArrangement, TuneStep } from '$lib/arrange/tune';

/** A step of a tune as JSON has it. */
export const tuneStepJson = ({
  onset,
  hold,
  way,
  stays,
  strings,
  tones,
  effort,
  move,
}: TuneStep) => ({
  bar: onset.measure + 1,
  /** Beats from the start, and how many it lasts. */
  at: onset.at,
  beat: onset.beat,
  lasts: onset.lasts,
  texture: onset.texture,
  ...(onset.chord === undefined ? {} : { chord: onset.chord.symbol }),
  ...(onset.melody === undefined ? {} : { melody: pitchText(onset.melody) }),
  strings: strings.map(({ string, pitch, reached, melody }) => ({
    string,
    pitch,
    reached,
    melody,
  })),
  voicing: {
    neck: hold.neck,
    fret: hold.fret,
    slant: hold.slant,
    strings: hold.strings,
    notes: hold.pitches.map((midi) => pitchText(spelled(tones, midi))),
    pitches: hold.pitches,
  },
  way,
  stays,
  effort,
  move,
});

/** Where a string is touched for a harmonic, in frets from the nut, and what it sounds. */
function touchedOn(
  strike: StruckStep['strike'],
  hold: SoundingHold,
  string: number,
  pitch: number,
) {
  const harmonic = harmonicOf(strike);
  if (harmonic === undefined) return {};
  const ahead = fretsAheadOf(hold)?.[hold.strings.indexOf(string)] ?? 0;
  return { touch: hold.fret + ahead + harmonic.frets, sounds: pitch + harmonic.semitones };
}

/** What the hand does in time: every stroke, pull and slide of the best arrangement as it is struck. */
export const struckJson = (steps: readonly StruckStep[]) =>
  steps.map(({ of, strike, onset, hold, strings }) => ({
    /** The step that it is of, by its number from 0. */
    of,
    at: onset.at,
    lasts: onset.lasts,
    ...(strike === undefined ? {} : { strike }),
    strings: strings.map(({ string, pitch, reached }) => ({
      ...{ string, pitch, reached },
      ...touchedOn(strike, hold, string, pitch),
    })),
  }));

/** The document that `arrange --texture … --json` prints. */
export const tuneJson = (
  progression: Progression,
  faults: readonly ProgressionFault[],
  { ways, lacks, searched }: TuneArrangement,
) => ({
  key: keyText(keyOf(progression)),
  searched,
  ways: ways.map(({ total, steps }) => ({ total, steps: steps.map(tuneStepJson) })),
  unread: faults.map(({ where, found, allowed }) => ({ where, found, allowed })),
  lacking: lacks.map((lack) => ({
    bar: lack.onset.measure + 1,
    at: lack.onset.at,
    lacks: lack.lacks,
    words: lackText(lack),
  })),
});
