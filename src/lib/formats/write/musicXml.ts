/**
 * A way through a progression as a MusicXML 4.0 score: a staff with the notes and the chord symbols,
 * and a tablature staff with as many lines as the neck has strings. A string that rings on is tied
 * where its pitch stays, and slides where a control or the bar moves it. Programs that read scores
 * often work tablature out anew from the pitches; the words under the staff say fret and controls in
 * any of them.
 */
import { noteName, type NoteName } from '$lib/theory/pitch';
import { fifthsBetween } from '$lib/theory/spelling';
import type { Chord } from '$lib/theory/chord';
import { engagedText } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { keyOf } from '$lib/arrange/findKey';
import {
  DEFAULT_METRE,
  DEFAULT_TEMPO,
  type Metre,
  type Progression,
} from '$lib/arrange/progression';
import {
  lengthIn,
  notesOf,
  writtenSteps,
  type PlayedStep,
  type Writer,
  type Written,
} from './musicXmlNotes';
import { PROGRAM } from './midi';
import { divisor, reduced } from '$lib/arrange/fractions';
import { SAME_PLACE, type Piece } from '$lib/arrange/piece';
import { pieceOf } from '$lib/arrange/pieceOf';
import { TICKS } from '../ticks';
import {
  above,
  leftBarline,
  rightBarline,
  signsBefore,
  signsBehind,
  tempoMark,
  time,
} from './musicXmlForm';
import { timedMeasures, type Timed } from './timedMeasures';
import { hasTune, tuneMeasures } from './musicXmlTune';
import { el, when, type XmlContent, type XmlText } from './xmlText';

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

/** `8 A+B`: fret and controls, short enough to stand beside its neighbours, in any reader. */
const positionText = ({ frets, engaged }: PlayedStep): string =>
  [String(Math.min(...frets)), engagedText(engaged)].filter((text) => text !== '').join(' ');

/** Where bar and controls are, once for as long as they stay: each chord's own would pile up. */
function position(played: PlayedStep, before: PlayedStep | undefined): readonly XmlContent[] {
  const text = positionText(played);
  return when(
    before === undefined || before.neck !== played.neck || positionText(before) !== text,
    el(
      'direction',
      { placement: 'below' },
      el('direction-type', {}, el('words', { 'font-size': 8 }, text)),
      el('staff', {}, 1),
    ),
  );
}

function staffNotes(
  writer: Writer,
  written: Written,
  staff: 1 | 2,
  isNamed: boolean,
): XmlContent[] {
  const { played, before, step } = written;
  return [
    ...(isNamed ? [harmony(step.chord)] : []),
    ...(staff === 1 && played !== undefined ? position(played, before) : []),
    ...notesOf(writer, written, staff),
  ];
}

function attributes(writer: Writer, { strings }: Setup['necks'][number], metre: Metre): XmlText {
  const { key } = writer;
  const fifths = fifthsBetween(noteName(key.mode === 'minor' ? 'A' : 'C', 0), key.tonic);
  return el(
    'attributes',
    {},
    el('divisions', {}, writer.divisions),
    el('key', {}, el('fifths', {}, fifths), el('mode', {}, key.mode)),
    time(metre),
    el('staves', {}, 2),
    // steel parts stand in a plain treble clef, at the pitch that sounds
    el('clef', { number: 1 }, el('sign', {}, 'G'), el('line', {}, 2)),
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

const rehearsal = (name: string): XmlText => above(el('rehearsal', {}, name));

/** A tune's part; a reader that finds no instrument behind a part complains of it. */
const tunePart = el(
  'score-part',
  { id: 'P2' },
  el('part-name', {}, 'Melody'),
  el('score-instrument', { id: 'P2-I1' }, el('instrument-name', {}, 'Melody')),
);

/** The instrument that readers look for behind a part, with the program of the MIDI file. */
const scorePart = (name: string): XmlText =>
  el(
    'score-part',
    { id: 'P1' },
    el('part-name', {}, name),
    el('score-instrument', { id: 'P1-I1' }, el('instrument-name', {}, 'Pedal steel guitar')),
    el(
      'midi-instrument',
      { id: 'P1-I1' },
      el('midi-channel', {}, 1),
      // MusicXML counts programs from 1
      el('midi-program', {}, PROGRAM + 1),
    ),
  );

/**
 * The text of a score. Chords that are not among `played` are rests under their symbols. All of it
 * stands on the neck of the first that is. The tune, where there is one, is a part of its own.
 *
 * @param progression the measures as they are written, of which `played` tells
 * @param piece those measures with their signs, where they have any
 * @param named the steps, by number among all, whose chord is named; where left out each that begins one
 */
export function writeMusicXml(
  setup: Setup,
  progression: Progression,
  played: readonly PlayedStep[],
  piece: Piece = pieceOf(progression),
  named?: ReadonlySet<number>,
): string {
  const steps = writtenSteps(progression, played);
  const divisions = steps
    .flatMap(({ values }) => values.map(({ lasts }) => lasts.over))
    .reduce((common, over) => (common * over) / divisor(common, over), 1);
  const writer = { divisions, key: keyOf(progression) };
  const neck = setup.necks[(played[0]?.neck ?? 1) - 1] ?? setup.necks[0];
  if (neck === undefined) throw new Error('a setup without a neck');
  const { metre = DEFAULT_METRE, tempo = DEFAULT_TEMPO } = progression;
  const timed = timedMeasures(piece);
  const measures = piece.measures.map((measure, bar) => {
    const { number, isPartial, metre: changed, length } = timed[bar] as Timed;
    const here = steps.filter(({ step }) => step.bar === bar);
    const { section, chords, tempos = [] } = measure;
    // a chord that goes on from the measure before is not named again
    const isNamed = (written: Written): boolean =>
      named?.has(steps.indexOf(written)) ??
      (written.step.slot > 0 || (chords[0]?.at ?? 1) < SAME_PLACE);
    const first = tempos.find(({ at }) => at < SAME_PLACE)?.tempo;
    const { parts, over } = reduced(Math.round(length * TICKS), TICKS);
    return el(
      'measure',
      { number, ...(isPartial ? { implicit: 'yes' } : {}) },
      leftBarline(measure, piece.measures[bar - 1]),
      when(bar === 0, attributes(writer, neck, changed ?? metre)),
      when(bar > 0 && changed !== undefined, el('attributes', {}, time(changed ?? metre))),
      when(bar === 0 || first !== undefined, tempoMark(first ?? tempo)),
      when(section !== undefined, rehearsal(section ?? '')),
      signsBefore(measure),
      tempos
        .filter(({ at }) => at >= SAME_PLACE)
        .map(({ at, tempo: later }) => tempoMark(later, Math.round(at * divisions))),
      here.map((written) => staffNotes(writer, written, 1, isNamed(written))),
      el('backup', {}, el('duration', {}, lengthIn(writer, { parts, over }))),
      here.map((written) => staffNotes(writer, written, 2, false)),
      signsBehind(measure),
      rightBarline(measure, piece.measures[bar + 1]),
    );
  });
  const tune = hasTune(piece) ? tuneMeasures(piece, timed, writer.key) : undefined;
  const score = el(
    'score-partwise',
    { version: '4.0' },
    el('work', {}, el('work-title', {}, progression.title ?? 'Progression')),
    el('identification', {}, el('encoding', {}, el('software', {}, 'Gripwright'))),
    el('part-list', {}, when(tune !== undefined, tunePart), scorePart(`Pedal steel, ${neck.name}`)),
    when(tune !== undefined, el('part', { id: 'P2' }, tune ?? [])),
    el('part', { id: 'P1' }, measures),
  );
  return `<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">\n${score.xml}\n`;
}
