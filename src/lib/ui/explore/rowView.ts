/** A row of the ranking, ready to be shown. */
import type { Chord } from '$lib/theory/chord';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { voicingText, type VoicingText } from '$lib/answers/voicingText';
import type { Setup } from '$lib/setup/setup';
import { engagedWords } from '$lib/setup/engagedText';
import type { ToneColour } from '$lib/ui/table/tableView';
import { colourOf } from './tableAdapter';

export interface RowView extends Omit<VoicingText, 'tones'> {
  readonly tones: readonly { readonly text: string; readonly colour: ToneColour }[];
  /** The neck's name, where there are several. */
  readonly neck: string;
  readonly slanted: boolean;
  readonly effort: number;
  /** Other ways to the same notes. */
  readonly otherWays: number;
  /** The whole row in words. */
  readonly spoken: string;
}

export function rowView(setup: Setup, chord: Chord, { voicing, effort }: RankedVoicing): RowView {
  const text = voicingText(chord, voicing);
  const missing = text.missing.length === 0 ? '' : `, without ${text.missing.join(' and ')}`;
  const neck = setup.necks.length > 1 ? (setup.necks[voicing.neck - 1]?.name ?? '') : '';
  const bar =
    voicing.slant === 0
      ? `Fret ${voicing.fret}`
      : `Slanted bar, fret ${voicing.fret} near and ${voicing.fret + voicing.slant} far`;
  return {
    ...text,
    tones: text.tones.map(({ text, role }) => ({ text, colour: colourOf(role) })),
    neck,
    slanted: voicing.slant !== 0,
    effort: effort.total,
    otherWays: voicing.ways.length - 1,
    spoken: `${neck === '' ? '' : `${neck} neck, `}${bar}, ${engagedWords(voicing.ways[0] ?? [])}, strings ${voicing.strings.join(' ')}${missing}, effort ${effort.total.toFixed(1)}`,
  };
}
