/** A sound that tells the setups apart, ready to be shown. */
import { prettySymbol, signsInWords, spokenSymbol } from '$lib/theory/display';
import type { Midi } from '$lib/theory/pitch';
import { engagedText, engagedWords } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { fretText, missingText, voicingText } from '$lib/answers/voicingText';
import type { Side } from '$lib/coverage/compare';
import type { ListName } from '$lib/coverage/listNames';
import type { ComparedSound } from '$lib/coverage/soundLists';
import { addressText, tableAddress } from '$lib/ui/explore/address';
import { colourOf } from '$lib/ui/explore/neckAdapter';
import type { ToneColour } from '$lib/ui/neck/neckView';
import type { Names } from './compareView';

export interface SoundView {
  readonly symbol: string;
  readonly notes: string;
  readonly tones: readonly { readonly text: string; readonly colour: ToneColour }[];
  readonly missing: string;
  /** How to make it, on the setup that has it (or has it easier) first. */
  readonly ways: readonly WayView[];
  readonly heights: string;
  readonly spoken: string;
  readonly voicing: RankedVoicing['voicing'];
  readonly pitches: readonly Midi[];
}

/** A sound of a list, whether it rings, and what plays or stops it. */
export interface Listed {
  readonly view: SoundView;
  readonly playing: boolean;
  readonly play: () => void;
}

export interface WayView {
  readonly side: Side;
  readonly neck: string;
  readonly fret: string;
  readonly controls: string;
  readonly strings: string;
  readonly effort: string;
  /** Where it lies, in words. */
  readonly spoken: string;
  /** Explore's address, behind the question mark, with the voicing on the table. */
  readonly address: string;
}

export const sideOf = (list: ListName): Side => (list.endsWith('A') ? 'a' : 'b');
const otherSide = (side: Side): Side => (side === 'a' ? 'b' : 'a');

const placeWords = (voicing: RankedVoicing['voicing']): string =>
  `fret ${fretText(voicing)}, ${engagedWords(voicing.ways[0] ?? [])}, strings ${voicing.strings.join(' ')}`;

function wayView(
  setup: Setup,
  side: Side,
  id: string,
  symbol: string,
  { voicing, effort }: RankedVoicing,
): WayView {
  return {
    side,
    neck: setup.necks.length > 1 ? (setup.necks[voicing.neck - 1]?.name ?? '') : '',
    fret: fretText(voicing),
    controls: engagedText(voicing.ways[0] ?? []) || '–',
    strings: voicing.strings.join('-'),
    effort: effort.total.toFixed(1),
    spoken: placeWords(voicing),
    address: addressText({
      setup: id,
      texts: { chord: symbol },
      table: tableAddress({ ...voicing, engaged: voicing.ways[0] ?? [] }),
    }),
  };
}

export function soundView(
  setups: Readonly<Record<Side, Setup>>,
  ids: Readonly<Record<Side, string>>,
  names: Names,
  list: ListName,
  { chord, here, there, heights, unknownThere }: ComparedSound,
): SoundView {
  const side = sideOf(list);
  const other = otherSide(side);
  const text = voicingText(chord, here.voicing);
  const more = heights === 1 ? 'at this height alone' : `at ${heights} heights`;
  return {
    symbol: prettySymbol(chord.symbol),
    notes: text.notes.join(' '),
    tones: text.tones.map((tone) => ({ text: tone.text, colour: colourOf(tone.role) })),
    missing: text.missing.length === 0 ? '' : `no ${text.missing.map(missingText).join(', ')}`,
    ways: [
      wayView(setups[side], side, ids[side], chord.symbol, here),
      ...(there === undefined
        ? []
        : [wayView(setups[other], other, ids[other], chord.symbol, there)]),
    ],
    heights:
      there !== undefined || unknownThere ? more : `${more}; ${names[other]} has it at others`,
    spoken: `${spokenSymbol(chord)}, ${signsInWords(text.notes.join(', '))}, on ${names[side]} at ${placeWords(here.voicing)}`,
    voicing: here.voicing,
    pitches: here.voicing.pitches,
  };
}
