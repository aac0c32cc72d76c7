/** The tune of a piece as a part of a MusicXML score, its words under it. */
import type { Key } from '$lib/theory/spelling';
import { noteName } from '$lib/theory/pitch';
import { fifthsBetween } from '$lib/theory/spelling';
import { SAME_PLACE, type Measure, type Piece, type PieceNote } from '$lib/arrange/piece';
import { divisor, reduced } from '$lib/arrange/fractions';
import { DEFAULT_METRE, isPitch } from '$lib/arrange/progression';
import { TICKS } from '../ticks';
import { leftBarline, rightBarline, time } from './musicXmlForm';
import { valuesOf, type NoteValue } from './noteValues';
import type { Timed } from './timedMeasures';
import { begins, goesOn, spansOf, type Span } from './tuneSpans';
import { el, when, type XmlContent, type XmlText } from './xmlText';

/** Whether there are notes to be written. */
export const hasTune = ({ measures }: Piece): boolean =>
  measures.some(({ notes }) =>
    notes.some(({ pitch, lasts }) => lasts > 0 && pitch !== 'rest' && isPitch(pitch)),
  );

function pitchElement({ pitch }: PieceNote): readonly XmlContent[] {
  if (pitch === 'rest' || !isPitch(pitch)) return [el('rest')];
  return [
    el(
      'pitch',
      {},
      el('step', {}, pitch.letter),
      when(pitch.alter !== 0, el('alter', {}, pitch.alter)),
      el('octave', {}, pitch.octave),
    ),
  ];
}

/** Syllables by verse; within a word where the one before or this one ends with a hyphen. */
function lyricElements(
  { lyrics = [] }: PieceNote,
  inWord: readonly boolean[],
): readonly XmlContent[] {
  return lyrics.flatMap((syllable, verse) => {
    if (syllable === undefined) return [];
    const goes = syllable.endsWith('-');
    const begun = inWord[verse] === true;
    const syllabic = goes ? (begun ? 'middle' : 'begin') : begun ? 'end' : 'single';
    return [
      el(
        'lyric',
        { number: verse + 1 },
        el('syllabic', {}, syllabic),
        el('text', {}, goes ? syllable.slice(0, -1) : syllable),
      ),
    ];
  });
}

function valueElements({ type, dots, tuplet }: NoteValue): readonly XmlContent[] {
  return [
    el('voice', {}, 1),
    el('type', {}, type),
    ...Array.from({ length: dots }, () => el('dot')),
    when(
      tuplet !== undefined,
      el(
        'time-modification',
        {},
        el('actual-notes', {}, tuplet?.actual ?? 1),
        el('normal-notes', {}, tuplet?.normal ?? 1),
      ),
    ),
  ];
}

const spanValues = ({ from, to }: Span): NoteValue[] =>
  valuesOf(reduced(Math.round((to - from) * TICKS), TICKS));

class TuneWriter {
  readonly #divisions: number;
  #inWord: boolean[] = [];
  /** The note before is tied to what comes. */
  #tied = false;
  #slurred = false;

  constructor(divisions: number) {
    this.#divisions = divisions;
  }

  #duration({ lasts: { parts, over } }: NoteValue): XmlText {
    return el('duration', {}, (this.#divisions * parts) / over);
  }

  #span(span: Span): readonly XmlContent[] {
    const { note } = span;
    const values = spanValues(span);
    if (note === undefined) {
      this.#tied = false;
      return values.map((value) =>
        el('note', {}, el('rest'), this.#duration(value), valueElements(value)),
      );
    }
    const on = goesOn(span);
    const isFirst = begins(span);
    const slurs = [
      ...(isFirst && note.slurred === true && !this.#slurred ? ['start'] : []),
      ...(isFirst && note.slurred !== true && this.#slurred ? ['stop'] : []),
    ];
    if (isFirst) this.#slurred = note.slurred === true;
    const elements = values.map((value, at) => {
      const ties = [
        ...(at > 0 || this.#tied ? ['stop'] : []),
        ...(at < values.length - 1 || on ? ['start'] : []),
      ];
      const notations = [
        ...ties.map((type) => el('tied', { type })),
        ...(at === 0 ? slurs.map((type) => el('slur', { type, number: 1 })) : []),
      ];
      return el(
        'note',
        {},
        pitchElement(note),
        this.#duration(value),
        ties.map((type) => el('tie', { type })),
        valueElements(value),
        when(notations.length > 0, el('notations', {}, notations)),
        when(at === 0 && isFirst, lyricElements(note, this.#inWord)),
      );
    });
    if (isFirst)
      note.lyrics?.forEach((syllable, verse) => {
        if (syllable !== undefined) this.#inWord[verse] = syllable.endsWith('-');
      });
    this.#tied = on;
    return elements;
  }

  notes({ notes }: Measure, length: number): readonly XmlContent[] {
    const graces = notes.filter(({ lasts, pitch }) => lasts === 0 && pitch !== 'rest');
    return spansOf({ chords: [], notes }, length).flatMap((span) => [
      ...graces
        .filter(({ at, pitch }) => Math.abs(at - span.from) < SAME_PLACE && pitch !== 'rest')
        .map((grace) =>
          el(
            'note',
            {},
            el('grace'),
            pitchElement(grace),
            el('voice', {}, 1),
            el('type', {}, 'eighth'),
          ),
        ),
      ...this.#span(span),
    ]);
  }
}

/** The measures of the part. */
export function tuneMeasures(piece: Piece, timed: readonly Timed[], key: Key): XmlText[] {
  const { measures, metre = DEFAULT_METRE } = piece;
  const divisions = measures
    .flatMap(({ notes }, at) =>
      spansOf({ chords: [], notes }, timed[at]?.length ?? 0).flatMap((span) =>
        spanValues(span).map(({ lasts }) => lasts.over),
      ),
    )
    .reduce((common, over) => (common * over) / divisor(common, over), 1);
  const writer = new TuneWriter(divisions);
  const fifths = fifthsBetween(noteName(key.mode === 'minor' ? 'A' : 'C', 0), key.tonic);
  return measures.map((measure, at) => {
    const { number, isPartial, metre: changed, length } = timed[at] as Timed;
    return el(
      'measure',
      { number, ...(isPartial ? { implicit: 'yes' } : {}) },
      leftBarline(measure, measures[at - 1]),
      when(
        at === 0,
        el(
          'attributes',
          {},
          el('divisions', {}, divisions),
          el('key', {}, el('fifths', {}, fifths), el('mode', {}, key.mode)),
          time(changed ?? metre),
          el('clef', {}, el('sign', {}, 'G'), el('line', {}, 2)),
        ),
      ),
      when(at > 0 && changed !== undefined, el('attributes', {}, time(changed ?? metre))),
      writer.notes(measure, length),
      rightBarline(measure, measures[at + 1]),
    );
  });
}
