/**
 * A way through a progression as a MusicXML 4.0 score: a staff with the notes and the chord symbols,
 * and a tablature staff with as many lines as the neck has strings. A string that rings on is tied
 * where its pitch stays, and slides where a control or the bar moves it. Programs that read scores
 * often work tablature out anew from the pitches; the words under the staff say fret and controls in
 * any of them.
 */
import { noteName, type NoteName, type Pitch } from '$lib/theory/pitch';
import { fifthsBetween, nameInKey } from '$lib/theory/spelling';
import { spelled, type SpelledTone } from '$lib/theory/toneNames';
import type { Chord } from '$lib/theory/chord';
import { engagedText } from '$lib/setup/engagedText';
import type { Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { keyOf } from '$lib/arrange/findKey';
import {
  DEFAULT_METRE,
  DEFAULT_TEMPO,
  stepsOf,
  type Progression,
  type Step,
} from '$lib/arrange/progression';
import { reduced, valuesOf, type Duration, type NoteValue } from './noteValues';
import { el, when, type XmlContent, type XmlText } from './xmlText';

/** How one chord of the progression is played. */
export interface PlayedStep {
  /** Its place among all steps of the progression, from 0. */
  readonly place: number;
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
}

const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));

/** A step with the values that it is written in, and its neighbours' notes. */
interface Written {
  readonly step: Step;
  readonly played: PlayedStep | undefined;
  readonly before: PlayedStep | undefined;
  readonly after: PlayedStep | undefined;
  readonly values: readonly NoteValue[];
}

/** Its share of a bar, as parts of a quarter note. */
function durationOf(progression: Progression, step: Step): Duration {
  const { metre = DEFAULT_METRE, bars } = progression;
  const all = bars[step.bar]?.slots.reduce((sum, { share }) => sum + share, 0) ?? 1;
  return reduced(metre.beats * 4 * step.share, metre.unit * all);
}

function writtenSteps(progression: Progression, played: readonly PlayedStep[]): Written[] {
  const steps = stepsOf(progression);
  const at = new Map(played.map((each) => [each.place, each]));
  return steps.map((step, place) => ({
    step,
    played: at.get(place),
    before: at.get(place - 1),
    after: at.get(place + 1),
    values: valuesOf(durationOf(progression, step)),
  }));
}

function nameElements(name: NoteName, part: 'root' | 'bass'): XmlText[] {
  return [
    el(`${part}-step`, {}, name.letter),
    ...(name.alter === 0 ? [] : [el(`${part}-alter`, {}, name.alter)]),
  ];
}

/** The chord symbol; `N.C.` is the kind `none`. */
function harmony(chord: Chord | 'no chord'): XmlText {
  if (chord === 'no chord')
    return el(
      'harmony',
      {},
      el('root', {}, el('root-step', { text: '' }, 'C')),
      el('kind', { text: 'N.C.' }, 'none'),
      el('staff', {}, 1),
    );
  return el(
    'harmony',
    {},
    el('root', {}, nameElements(chord.root, 'root')),
    el('kind', { text: chord.type }, chord.kind),
    when(chord.bass !== undefined, el('bass', {}, nameElements(chord.bass ?? chord.root, 'bass'))),
    chord.degrees.map(({ value, alter, type }) =>
      el(
        'degree',
        { 'print-object': 'no' },
        el('degree-value', {}, value),
        el('degree-alter', {}, alter),
        el('degree-type', {}, type),
      ),
    ),
    el('staff', {}, 1),
  );
}

/** `fret 8, A+B`: what any program can show. */
const words = ({ frets, engaged }: PlayedStep): XmlText =>
  el(
    'direction',
    { placement: 'below' },
    el(
      'direction-type',
      {},
      el(
        'words',
        {},
        [`fret ${String(Math.min(...frets))}`, engagedText(engaged)]
          .filter((text) => text !== '')
          .join(', '),
      ),
    ),
    el('staff', {}, 1),
  );

interface Writer {
  readonly divisions: number;
  readonly key: ReturnType<typeof keyOf>;
}

interface NotePlace {
  readonly written: Written;
  readonly value: number;
  readonly staff: 1 | 2;
}

/** Whether a string rings on from one chord into the next, at the same pitch or on the way to another. */
function leads(
  from: PlayedStep | undefined,
  to: PlayedStep | undefined,
  string: number,
): 'tie' | 'slide' | undefined {
  if (from === undefined || to === undefined || from.neck !== to.neck) return undefined;
  const [was, is] = [from.strings.indexOf(string), to.strings.indexOf(string)];
  if (was < 0 || is < 0 || !to.held.includes(string)) return undefined;
  return from.pitches[was] === to.pitches[is] ? 'tie' : 'slide';
}

const lengthIn = ({ divisions }: Writer, { parts, over }: Duration): number =>
  (divisions * parts) / over;

function tupletMarks({ written: { values }, value }: NotePlace): XmlText[] {
  if (values[value]?.tuplet === undefined) return [];
  const types = [
    ...(value === 0 ? ['start'] : []),
    ...(value === values.length - 1 ? ['stop'] : []),
  ];
  return types.map((type) => el('tuplet', { type }));
}

function valueElements({ written, value }: NotePlace): XmlText[] {
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

function rest(writer: Writer, place: NotePlace): XmlText {
  const { lasts } = place.written.values[place.value] as NoteValue;
  const tuplets = tupletMarks(place);
  return el(
    'note',
    {},
    el('rest'),
    el('duration', {}, lengthIn(writer, lasts)),
    voiceOf(place.staff),
    valueElements(place),
    el('staff', {}, place.staff),
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

/** One string's note of a chord. */
function note(writer: Writer, place: NotePlace, played: PlayedStep, stop: number): XmlText {
  const { written, value, staff } = place;
  const { before, after, values } = written;
  const string = played.strings[stop] ?? 0;
  const last = value === values.length - 1;
  const from = value === 0 ? leads(before, played, string) : 'tie';
  const to = last ? leads(played, after, string) : 'tie';
  const ties = [...(from === 'tie' ? ['stop'] : []), ...(to === 'tie' ? ['start'] : [])];
  // slides are numbered by string, so that several may go at once; MusicXML has 16 numbers
  const slides = [...(from === 'slide' ? ['stop'] : []), ...(to === 'slide' ? ['start'] : [])];
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
    ...(stop === 0 ? tupletMarks(place) : []),
    ...slides.map((type) => el('slide', { type, number: string, 'line-type': 'solid' })),
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
    valueElements(place),
    el('staff', {}, staff),
    when(notations.length > 0, el('notations', {}, notations)),
  );
}

function staffNotes(writer: Writer, written: Written, staff: 1 | 2): XmlContent[] {
  const { played, step } = written;
  return [
    ...(staff === 1 ? [harmony(step.chord)] : []),
    ...(staff === 1 && played !== undefined ? [words(played)] : []),
    ...written.values.flatMap((_, value): XmlText[] => {
      const place = { written, value, staff };
      return played === undefined
        ? [rest(writer, place)]
        : played.strings.map((__, stop) => note(writer, place, played, stop));
    }),
  ];
}

function attributes(
  writer: Writer,
  { strings }: Setup['necks'][number],
  { metre = DEFAULT_METRE }: Progression,
): XmlText {
  const { key } = writer;
  const fifths = fifthsBetween(noteName(key.mode === 'minor' ? 'A' : 'C', 0), key.tonic);
  return el(
    'attributes',
    {},
    el('divisions', {}, writer.divisions),
    el('key', {}, el('fifths', {}, fifths), el('mode', {}, key.mode)),
    el('time', {}, el('beats', {}, metre.beats), el('beat-type', {}, metre.unit)),
    el('staves', {}, 2),
    // the pitches are those that sound; the clef is written an octave higher, as for guitars
    el(
      'clef',
      { number: 1 },
      el('sign', {}, 'G'),
      el('line', {}, 2),
      el('clef-octave-change', {}, -1),
    ),
    el('clef', { number: 2 }, el('sign', {}, 'TAB'), el('line', {}, Math.ceil(strings.length / 2))),
    el(
      'staff-details',
      { number: 2 },
      el('staff-lines', {}, strings.length),
      // lines are counted from the bottom, strings from the top
      [...strings]
        .reverse()
        .map(({ open }, line) =>
          el(
            'staff-tuning',
            { line: line + 1 },
            el('tuning-step', {}, open.letter),
            when(open.alter !== 0, el('tuning-alter', {}, open.alter)),
            el('tuning-octave', {}, open.octave),
          ),
        ),
    ),
  );
}

const tempoMark = ({ tempo = DEFAULT_TEMPO }: Progression): XmlText =>
  el(
    'direction',
    { placement: 'above' },
    el(
      'direction-type',
      {},
      el('metronome', {}, el('beat-unit', {}, 'quarter'), el('per-minute', {}, tempo)),
    ),
    el('staff', {}, 1),
    el('sound', { tempo }),
  );

const rehearsal = (name: string): XmlText =>
  el(
    'direction',
    { placement: 'above' },
    el('direction-type', {}, el('rehearsal', {}, name)),
    el('staff', {}, 1),
  );

/**
 * The text of a score. Chords that are not among `played` are rests under their symbols. All of it
 * stands on the neck of the first that is.
 */
export function writeMusicXml(
  setup: Setup,
  progression: Progression,
  played: readonly PlayedStep[],
): string {
  const steps = writtenSteps(progression, played);
  const divisions = steps
    .flatMap(({ values }) => values.map(({ lasts }) => lasts.over))
    .reduce((common, over) => (common * over) / divisor(common, over), 1);
  const writer = { divisions, key: keyOf(progression) };
  const neck = setup.necks[(played[0]?.neck ?? 1) - 1] ?? setup.necks[0];
  if (neck === undefined) throw new Error('a setup without a neck');
  const { metre = DEFAULT_METRE } = progression;
  const length = lengthIn(writer, reduced(metre.beats * 4, metre.unit));
  const measures = progression.bars.map(({ section }, bar) => {
    const here = steps.filter(({ step }) => step.bar === bar);
    return el(
      'measure',
      { number: bar + 1 },
      when(bar === 0, attributes(writer, neck, progression), tempoMark(progression)),
      when(section !== undefined, rehearsal(section ?? '')),
      here.map((written) => staffNotes(writer, written, 1)),
      el('backup', {}, el('duration', {}, length)),
      here.map((written) => staffNotes(writer, written, 2)),
    );
  });
  const score = el(
    'score-partwise',
    { version: '4.0' },
    el('work', {}, el('work-title', {}, progression.title ?? 'Progression')),
    el('identification', {}, el('encoding', {}, el('software', {}, 'Gripwright'))),
    el(
      'part-list',
      {},
      el('score-part', { id: 'P1' }, el('part-name', {}, `Pedal steel, ${neck.name}`)),
    ),
    el('part', { id: 'P1' }, measures),
  );
  return `<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">\n${score.xml}\n`;
}
