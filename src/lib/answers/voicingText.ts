/** A ranked voicing in the words and signs of a line: for the page's rows and the command line's. */
import { prettyPitch, prettySymbol } from '$lib/theory/display';
import type { Chord } from '$lib/theory/chord';
import type { ToneRole } from '$lib/theory/duties';
import { spelled, toneAt } from '$lib/theory/toneNames';
import { engagedText } from '$lib/setup/engagedText';
import type { Voicing } from '$lib/search/voicing';

/** A tone as it is written in a row. */
export interface ToneText {
  /** `♭7`, or `R` for the root. */
  readonly text: string;
  readonly role: ToneRole;
}

export interface VoicingText {
  /** `8`; under a slant the frets of its nearest and its farthest string, `3/5`. */
  readonly fret: string;
  /** `A+B`; empty where nothing is engaged. */
  readonly controls: string;
  /** `3-4-5`. */
  readonly strings: string;
  /** One for each string, in their order. */
  readonly notes: readonly string[];
  /** In the same order: each tone under its string. */
  readonly tones: readonly ToneText[];
  /** Degrees left out. */
  readonly missing: readonly string[];
}

/** A degree as a disc or a row shows it: the root as a letter, signs as signs. */
export const toneText = (degree: string): string => (degree === '1' ? 'R' : prettySymbol(degree));

/** A missing tone, as its disc shows it, behind "no". */
export const missingText = (tone: string): string => (tone === 'R' ? 'root' : tone);

export const fretText = ({ fret, slant }: Pick<Voicing, 'fret' | 'slant'>): string =>
  slant === 0 ? String(fret) : `${fret}/${fret + slant}`;

/** A voicing of a chord in text. */
export function voicingText(chord: Chord, voicing: Voicing): VoicingText {
  const { pitches } = voicing;
  return {
    fret: fretText(voicing),
    controls: engagedText(voicing.ways[0] ?? []),
    strings: voicing.strings.join('-'),
    notes: pitches.map((midi) => prettyPitch(spelled(chord.tones, midi))),
    tones: pitches.flatMap((midi) => {
      const tone = toneAt(chord.tones, midi);
      return tone ? [{ text: toneText(tone.degree), role: tone.role }] : [];
    }),
    missing: voicing.missing.map(toneText),
  };
}
