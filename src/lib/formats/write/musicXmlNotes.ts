/** The notes and rests of a MusicXML score: how long, how spelled, tied or sliding to where. */
import type { Pitch } from '$lib/theory/pitch';
import { nameInKey } from '$lib/theory/spelling';
import { spelled, type SpelledTone } from '$lib/theory/toneNames';
import { engagedText } from '$lib/setup/engagedText';
import type { Choice } from '$lib/setup/reach';
import type { keyOf } from '$lib/arrange/findKey';
import {
  DEFAULT_METRE,
  stepsOf,
  type Bar,
  type Progression,
  type Step,
} from '$lib/arrange/progression';
import { leads, slidesOf, type Slides } from './musicXmlSlides';
import { reduced } from '$lib/arrange/fractions';
import { slotDuration, valuesOf, type Duration, type NoteValue } from './noteValues';
import { el, when, type XmlText } from './xmlText';

/** How one chord of the progression is played. */
export interface PlayedStep {
  /** Its index among all steps of the progression, from 0. */
  readonly index: number;
  /** What its notes are spelled by. */
  readonly tones: readonly SpelledTone[];
  /** From 1. */
  readonly neck: number;
  /** From 1, ascending; frets and pitches are at each of them. */
  readonly strings: readonly number[];
  readonly frets: readonly number[];
  readonly pitches: readonly number[];
  readonly engaged: Choice;
  /** Strings that ring on from the chord before. */
  readonly held: readonly number[];
  /** Strings that are picked again on the chord's last beat, which is not its first. */
  readonly again: readonly number[];
}

/** A step with the values that it is written in, and its neighbours' notes. */
export interface Written {
  readonly step: Step;
  readonly played: PlayedStep | undefined;
  readonly before: PlayedStep | undefined;
  readonly after: PlayedStep | undefined;
  readonly values: readonly NoteValue[];
  /** Of the values the first on the last beat, where strings are picked again there. */
  readonly lastBeat?: number;
  /** What slides here from the chord before, and from here to the next. */
  readonly slides: Slides;
}

/** How long it lasts, in parts of a quarter note. */
function durationOf({ metre = DEFAULT_METRE, bars }: Progression, { bar, share }: Step): Duration {
  return slotDuration(metre, bars[bar] as Bar, share);
}

/** Every step with the values that it is written in, and what is played there; nothing where it is not. */
export function writtenSteps(progression: Progression, played: readonly PlayedStep[]): Written[] {
  const steps = stepsOf(progression);
  const at = new Map(played.map((each) => [each.index, each]));
  const { unit } = progression.metre ?? DEFAULT_METRE;
  const beat = reduced(4, unit);
  const written = steps.map((step, index): Omit<Written, 'slides'> => {
    const own = at.get(index);
    const neighbours = { step, played: own, before: at.get(index - 1), after: at.get(index + 1) };
    const duration = durationOf(progression, step);
    if (own === undefined || own.again.length === 0)
      return { ...neighbours, values: valuesOf(duration) };
    const { parts, over } = duration;
    const first = valuesOf(reduced(parts * beat.over - beat.parts * over, over * beat.over));
    return { ...neighbours, values: [...first, ...valuesOf(beat)], lastBeat: first.length };
  });
  const slides = slidesOf(
    written.map(({ played: own, values }) => ({ played: own, long: values.length > 1 })),
  );
  return written.map((each, index) => ({ ...each, slides: slides[index] as Slides }));
}

/** What every length and name in the score is measured by. */
export interface Writer {
  readonly divisions: number;
  readonly key: ReturnType<typeof keyOf>;
}

interface NotePosition {
  readonly written: Written;
  readonly value: number;
  readonly staff: 1 | 2;
}

/** In the score's divisions of a quarter note. */
export const lengthIn = ({ divisions }: Writer, { parts, over }: Duration): number =>
  (divisions * parts) / over;

function tupletMarks({ written: { values }, value }: NotePosition): XmlText[] {
  if (values[value]?.tuplet === undefined) return [];
  const types = [
    ...(value === 0 ? ['start'] : []),
    ...(value === values.length - 1 ? ['stop'] : []),
  ];
  return types.map((type) => el('tuplet', { type }));
}

function valueElements({ written, value }: NotePosition): XmlText[] {
  const { type, dots, tuplet } = written.values[value] as NoteValue;
  return [
    el('type', {}, type),
    ...Array.from({ length: dots }, () => el('dot')),
    ...(tuplet === undefined
      ? []
      : [
          el(
            'time-modification',
            {},
            el('actual-notes', {}, tuplet.actual),
            el('normal-notes', {}, tuplet.normal),
          ),
        ]),
  ];
}

const voiceOf = (staff: 1 | 2): XmlText => el('voice', {}, staff === 1 ? 1 : 5);

function rest(writer: Writer, position: NotePosition): XmlText {
  const { lasts } = position.written.values[position.value] as NoteValue;
  const tuplets = tupletMarks(position);
  return el(
    'note',
    {},
    el('rest'),
    el('duration', {}, lengthIn(writer, lasts)),
    voiceOf(position.staff),
    valueElements(position),
    el('staff', {}, position.staff),
    when(tuplets.length > 0, el('notations', {}, tuplets)),
  );
}

function pitchElement({ letter, alter, octave }: Pitch): XmlText {
  return el(
    'pitch',
    {},
    el('step', {}, letter),
    when(alter !== 0, el('alter', {}, alter)),
    el('octave', {}, octave),
  );
}

const slide = (type: 'start' | 'stop', number: number | undefined): XmlText[] =>
  number === undefined ? [] : [el('slide', { type, number, 'line-type': 'solid' })];

/** One string's note of a chord. */
function note(writer: Writer, position: NotePosition, played: PlayedStep, stop: number): XmlText {
  const { written, value, staff } = position;
  const { before, after, values, lastBeat } = written;
  const string = played.strings[stop] ?? 0;
  const last = value === values.length - 1;
  const pickedAgain = (at: number): boolean => at === lastBeat && played.again.includes(string);
  const tie = (at: number): 'tie' | undefined => (pickedAgain(at) ? undefined : 'tie');
  const from = value === 0 ? leads(before, played, string) : tie(value);
  const to = last ? leads(played, after, string) : tie(value + 1);
  const ties = [...(from === 'tie' ? ['stop'] : []), ...(to === 'tie' ? ['start'] : [])];
  const [ends, begins] = [
    from === 'slide' ? written.slides.into.get(string) : undefined,
    to === 'slide' ? written.slides.outOf.get(string) : undefined,
  ];
  const pitch = spelled(played.tones, played.pitches[stop] ?? 0, (chroma) =>
    nameInKey(chroma, writer.key),
  );
  const technical = [
    ...(stop === 0 && value === 0 && played.engaged.length > 0
      ? [el('other-technical', {}, engagedText(played.engaged))]
      : []),
    el('string', {}, string),
    el('fret', {}, played.frets[stop] ?? 0),
  ];
  const notations = [
    ...ties.map((type) => el('tied', { type })),
    ...(stop === 0 ? tupletMarks(position) : []),
    // on the staff of notes alone: readers count slides of both staves together
    ...(staff === 1 ? [...slide('stop', ends), ...slide('start', begins)] : []),
    ...(staff === 2 ? [el('technical', {}, technical)] : []),
  ];
  const { lasts } = values[value] as NoteValue;
  return el(
    'note',
    {},
    when(stop > 0, el('chord')),
    pitchElement(pitch),
    el('duration', {}, lengthIn(writer, lasts)),
    ties.map((type) => el('tie', { type })),
    voiceOf(staff),
    valueElements(position),
    el('staff', {}, staff),
    when(notations.length > 0, el('notations', {}, notations)),
  );
}

/** What one step of the progression is on one staff. */
export function notesOf(writer: Writer, written: Written, staff: 1 | 2): XmlText[] {
  const { played } = written;
  return written.values.flatMap((_, value): XmlText[] => {
    const position = { written, value, staff };
    return played === undefined
      ? [rest(writer, position)]
      : played.strings.map((__, stop) => note(writer, position, played, stop));
  });
}
