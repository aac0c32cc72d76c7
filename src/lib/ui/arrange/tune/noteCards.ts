/** A tune's arrangement as a strip: measures with their notes, and what can be asked of one of them. */
import { voicingKey } from '$lib/arrange/voicingKey';
import { placeOf, wishedAt, type NoteWishes, type NotesWished } from '$lib/arrange/noteWishes';
import type { ReachedString, TuneStep } from '$lib/arrange/tune';
import { gripOf } from '$lib/search/grip';
import { engagedText, engagedWords } from '$lib/setup/engagedText';
import { prettyPitch, prettySymbol } from '$lib/theory/display';
import { spelled } from '$lib/theory/toneNames';

/** How a string is reached, as a sign beside its number, and in words. */
const REACHED: Readonly<Record<ReachedString['reached'], readonly [sign: string, words: string]>> =
  {
    picked: ['', ''],
    pull: ['~', 'pulled'],
    slide: ['/', 'slid'],
    rings: ['( )', 'rings on'],
  };

/** One moment of a tune as a card shows it. */
export interface NoteCard {
  readonly index: number;
  /** `5:2.5`. */
  readonly place: string;
  /** Measure and beat, from 1. */
  readonly measure: number;
  readonly beat: number;
  /** The note of the tune, or the chord where it rests. */
  readonly name: string;
  readonly fret: string;
  readonly controls: string;
  /** Strings of the note or chord: `4 ~`. */
  readonly strings: string;
  /** What is kept of it, in words; empty where all is free. */
  readonly kept: string;
  readonly spoken: string;
}

const keptWords = (own: NoteWishes | undefined): string => {
  if (own === undefined) return '';
  const { hold, fret, strings, tuneOn, noStrings, noHolds = [] } = own;
  return [
    hold === undefined ? '' : 'kept',
    fret === undefined ? '' : 'fret kept',
    strings === undefined ? '' : `string ${strings.join(' ')} kept`,
    tuneOn === undefined ? '' : `on string ${tuneOn}`,
    noStrings === undefined ? '' : `not string ${noStrings.join(' ')}`,
    noHolds.length === 0 ? '' : `${noHolds.length} turned down`,
  ]
    .filter((each) => each !== '')
    .join(', ');
};

/** What is heard here, by its name. */
const nameOf = ({ onset }: TuneStep): string =>
  onset.melody !== undefined
    ? prettyPitch(onset.melody)
    : onset.chord === undefined
      ? ''
      : prettySymbol(onset.chord.symbol);

/** A step as a card. */
export function cardOf(step: TuneStep, index: number, wished: NotesWished | undefined): NoteCard {
  const { onset, hold, way, strings, tones } = step;
  const own = strings.filter(({ string }) => hold.strings.includes(string));
  const name = nameOf(step);
  const kept = keptWords(wishedAt(wished, onset));
  const said = own
    .map(({ string, pitch, reached }) =>
      `string ${string} ${prettyPitch(spelled(tones, pitch))} ${REACHED[reached][1]}`.trim(),
    )
    .join(', ');
  return {
    index,
    place: placeOf(onset),
    measure: onset.measure + 1,
    beat: onset.beat,
    name,
    fret: String(hold.fret),
    controls: engagedText(way),
    strings: own.map(({ string, reached }) => `${string}${REACHED[reached][0]}`).join(' '),
    kept,
    spoken: `measure ${onset.measure + 1}, beat ${onset.beat}, ${name}: fret ${hold.fret}, ${engagedWords(way)}, ${said}${kept === '' ? '' : `, ${kept}`}`,
  };
}

/** What can be asked of a note. */
export type NoteAsk =
  | { readonly what: 'keep' | 'fret' | 'turn down' | 'free' }
  | { readonly what: 'move' | 'no string' | 'string'; readonly string: number };

/** The wishes with one more of a note; asked again for what is kept, it is freed. */
export function askedOf(
  wished: NotesWished | undefined,
  step: TuneStep,
  ask: NoteAsk,
): NotesWished {
  const next = new Map(wished ?? []);
  const place = placeOf(step.onset);
  const before: NoteWishes = next.get(place) ?? {};
  const { hold } = step;
  const own = asked(before, { ...hold, engaged: step.way }, ask);
  if (Object.keys(own).length === 0) next.delete(place);
  else next.set(place, own);
  return next;
}

function asked(
  before: NoteWishes,
  hold: NonNullable<NoteWishes['hold']>,
  ask: NoteAsk,
): NoteWishes {
  const { neck, fret, slant, engaged, strings } = hold;
  const now = { neck, fret, slant, engaged, strings };
  const { hold: held, fret: keptFret, tuneOn: _tuneOn, ...rest } = before;
  const { noStrings, noHolds } = before;
  const bars = {
    ...(noStrings === undefined ? {} : { noStrings }),
    ...(noHolds === undefined ? {} : { noHolds }),
  };
  switch (ask.what) {
    case 'free':
      return {};
    case 'keep':
      return held === undefined ? { ...bars, hold: now } : bars;
    case 'fret':
      return keptFret === undefined ? { ...bars, fret } : bars;
    case 'move':
      return { ...bars, tuneOn: ask.string };
    case 'string':
      return { ...rest, strings: [ask.string] };
    case 'no string':
      return {
        ...bars,
        noStrings: [...new Set([...(noStrings ?? []), ask.string])].sort((a, b) => a - b),
      };
    case 'turn down': {
      const same = (each: typeof now): string => voicingKey(each, gripOf(each.strings));
      const others = (noHolds ?? []).filter((each) => same(each) !== same(now));
      return { ...bars, noHolds: [...others, now] };
    }
  }
}
