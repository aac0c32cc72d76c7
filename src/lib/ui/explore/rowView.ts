/** A row of the ranking, ready to be shown. */
import type { Chord } from '$lib/theory/chord';
import { toneAt } from '$lib/theory/toneNames';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import {
  fretText,
  missingText,
  toneText,
  voicingText,
  type VoicingText,
} from '$lib/answers/voicingText';
import type { Setup } from '$lib/setup/setup';
import { engagedWords } from '$lib/setup/engagedText';
import type { ToneColour } from '$lib/ui/neck/neckView';
import { capitalised } from '$lib/ui/parts/words';
import { colourOf } from './neckAdapter';

/** What a string of the grip sounds. */
export interface RowTone {
  readonly string: number;
  /** `♭7`, or `R` for the root. */
  readonly text: string;
  readonly colour: ToneColour;
}

/** Strings, tones and notes stand in one order: ascending by string, as grips are said. */
export interface RowView extends Omit<VoicingText, 'tones'> {
  readonly tones: readonly RowTone[];
  /** The neck's name, where there are several. */
  readonly neck: string;
  readonly slanted: boolean;
  readonly effort: number;
  /** The same strings and controls in other octaves: their frets, as `fret` is written. */
  readonly octaves: readonly string[];
  /** Other ways to the same notes. */
  readonly otherWays: number;
  /** The whole row in words. */
  readonly spoken: string;
}

/** A ranked voicing, with the frets of its other octaves where the answer has folded them into it. */
export type FoldedVoicing = RankedVoicing & { readonly octaves?: readonly number[] };

/** Where a voicing lies, in words: what all grips of its position share. */
export function positionWords(setup: Setup, { voicing }: RankedVoicing): string {
  const { fret, slant } = voicing;
  const neck = setup.necks.length > 1 ? `${setup.necks[voicing.neck - 1]?.name ?? ''} neck, ` : '';
  const bar =
    slant === 0 ? `fret ${fret}` : `slanted bar, fret ${fret} near and ${fret + slant} far`;
  return `${neck}${bar}, ${engagedWords(voicing.ways[0] ?? [])}`;
}

export function rowView(setup: Setup, chord: Chord, ranked: FoldedVoicing): RowView {
  const { voicing, effort, octaves = [] } = ranked;
  const text = voicingText(chord, voicing);
  const missing =
    text.missing.length === 0 ? '' : `, no ${text.missing.map(missingText).join(' and no ')}`;
  const neck = setup.necks.length > 1 ? (setup.necks[voicing.neck - 1]?.name ?? '') : '';
  const also =
    octaves.length === 0
      ? ''
      : `, also at ${octaves.length === 1 ? 'fret' : 'frets'} ${octaves.join(' and ')}`;
  return {
    ...text,
    tones: voicing.pitches.flatMap((midi, stop) => {
      const tone = toneAt(chord.tones, midi);
      const string = voicing.strings[stop] ?? 0;
      return tone ? [{ string, text: toneText(tone.degree), colour: colourOf(tone.role) }] : [];
    }),
    neck,
    slanted: voicing.slant !== 0,
    effort: effort.total,
    octaves: octaves.map((fret) => fretText({ fret, slant: voicing.slant })),
    otherWays: voicing.ways.length - 1,
    spoken: `${capitalised(positionWords(setup, ranked))}, strings ${voicing.strings.join(' ')}${missing}, effort ${effort.total.toFixed(1)}${also}`,
  };
}
