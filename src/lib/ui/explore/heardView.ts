/** The words about what sounds. */
import { capitalised } from '$lib/ui/parts/words';
import { prettyPitch, prettySymbol, spokenSymbol } from '$lib/theory/display';
import type { ChordName } from '$lib/theory/names';
import type { Chord } from '$lib/theory/chord';
import { nameText, type Chroma, type NoteName } from '$lib/theory/pitch';
import { spelled, toneAt } from '$lib/theory/toneNames';
import type { Sound } from '$lib/answers/sound';
import { missingText, toneText } from '$lib/answers/voicingText';
import type { ToneColour } from '$lib/ui/neck/neckView';
import { colourOf, type Reference } from './neckAdapter';

export interface OtherName {
  readonly symbol: string;
  readonly text: string;
  readonly spoken: string;
}

export interface HeardView {
  readonly name: string;
  readonly spoken: string;
  /** What the name says, where it is a chord's. */
  readonly named: Pick<Chord, 'root' | 'type' | 'bass'> | undefined;
  /** Ascending by string, as the grip is said; `made` in the same order. */
  readonly tones: readonly { readonly text: string; readonly colour: ToneColour }[];
  /** The notes, and what is missing. */
  readonly made: string;
  readonly others: readonly OtherName[];
  /** Those of them that say more than the name does: beside a plain triad none without a root. */
  readonly beside: readonly OtherName[];
  readonly playable: boolean;
}

/** Names that leave out or add more than one tone help nobody. */
const FURTHEST = 1;
const OTHERS = 3;

/** `otherwise` spells what no name covers; `wanted` is the chord asked for while one of its voicings is held, with what that lacks. */
export function heardView(
  sound: Sound,
  reference: Reference | undefined,
  otherwise: (chroma: Chroma) => NoteName,
  wanted?: { readonly chord: Chord; readonly missing: readonly string[] },
): HeardView {
  const pitches = sound.pitches.map((midi) => spelled(reference?.tones ?? [], midi, otherwise));
  const notes = pitches.map((each) => prettyPitch(each)).join(' ');
  const best = sound.names[0];
  const others = sound.names
    .filter((name) => (wanted ? !isSame(name, wanted.chord) : name !== best))
    .filter(({ missing, added }) => missing.length + added.length <= FURTHEST)
    .slice(0, OTHERS);
  const missing = wanted?.missing ?? best?.missing ?? [];
  const lacks =
    wanted && missing.length > 0
      ? ` · no ${missing.map((each) => missingText(toneText(each))).join(', no ')}`
      : '';
  // two notes are an interval; the fifth alone has a name of its own
  const named =
    wanted?.chord ?? (sound.reading !== undefined && best?.type !== '5' ? undefined : best);
  return {
    name: named ? prettySymbol(named.symbol) : (soundWithoutName(sound) ?? 'Pick some strings'),
    spoken: named ? spokenSymbol(named) : (soundWithoutName(sound) ?? 'No string is picked'),
    named,
    tones: sound.pitches.flatMap((midi) => {
      const tone = reference && toneAt(reference.tones, midi);
      return tone ? [{ text: toneText(tone.degree), colour: colourOf(tone.role) }] : [];
    }),
    made: [notes, ...madeOf(sound, named !== undefined)].join(' · ') + lacks,
    others: others.map(toldName),
    beside: others.filter(({ missing }) => !isTriad(named) || !missing.includes('1')).map(toldName),
    playable: sound.pitches.length > 0,
  };
}

const toldName = (name: ChordName): OtherName => ({
  symbol: name.symbol,
  text: prettySymbol(name.symbol),
  spoken: spokenSymbol(name),
});

const isTriad = (named: Pick<Chord, 'type'> | undefined): boolean =>
  named?.type === '' || named?.type === 'm';

/** The wanted chord under another bass is no other name. */
const isSame = (name: ChordName, chord: Chord): boolean =>
  name.symbol === chord.symbol ||
  (nameText(name.root) === nameText(chord.root) && name.type.split('(')[0] === chord.type);

/** What stands beside the notes: the interval, where the name is another; else what it is of a chord. */
function madeOf({ interval, reading }: Sound, isNamed: boolean): string[] {
  if (interval === undefined) return [];
  if (!isNamed && reading !== undefined) return [reading];
  const inside = /^cluster.*\((.*)\)$/.exec(interval)?.[1];
  if (inside !== undefined) return [inside];
  return interval.startsWith('stack') ? [] : [interval];
}

/** One string, one note in octaves, two notes, a cluster or a stack of fourths. */
function soundWithoutName(sound: Sound): string | undefined {
  if (sound.pitches.length === 0) return undefined;
  if (sound.interval !== undefined) return capitalised(sound.interval.split(':')[0] ?? '');
  return 'One note';
}
