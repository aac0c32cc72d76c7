/**
 * What a text of chords cannot say of a piece: notes with their lengths, ties and words, keys and tempos within.
 * In a document it stands beside the chords, told measure by measure, each with its chords. Where a piece is typed,
 * it goes along with the measures that still are what they were; so an edit loses the notes of the measures that
 * it changes alone.
 */
import { melodyNoteText, readMelodyNote } from '$lib/arrange/melody';
import {
  SAME_PLACE,
  type Measure,
  type Piece,
  type PieceNote,
  type PieceWords,
  type TempoMark,
} from '$lib/arrange/piece';
import { asWritten, pieceOf } from '$lib/arrange/pieceOf';
import { BOUNDS } from '$lib/arrange/progression';
import { barText } from '$lib/arrange/writeText';
import { keyText, parseKey } from '$lib/theory/spelling';
import { isRecord } from '$lib/setup/parsed';
import { shared } from './textMerge';

/** Of a measure, as it lies in a document; short names, for there are many. */
interface KeptMeasure {
  /** The chords, as a text has them. */
  readonly is: string;
  readonly notes?: readonly KeptNote[];
  readonly words?: readonly PieceWords[];
  readonly tempos?: readonly TempoMark[];
  readonly key?: string;
}
/** Place, length, pitch (`-` for a rest), `t` tied and `s` slurred, syllables by verse. */
type KeptNote = readonly [
  at: number,
  lasts: number,
  pitch: string,
  signs?: string,
  lyrics?: readonly (string | null)[],
];

/** Longer ones are not kept. */
export const MOST_TUNE = 120_000;

const rounded = (value: number): number => Math.round(value * 1e9) / 1e9;

function keptNote({ at, lasts, pitch, tied, slurred, lyrics }: PieceNote): KeptNote {
  const signs = `${tied === true ? 't' : ''}${slurred === true ? 's' : ''}`;
  const name = pitch === 'rest' ? '-' : melodyNoteText(pitch);
  const words = lyrics?.map((each) => each ?? null);
  const note = [rounded(at), rounded(lasts), name] as const;
  if (words !== undefined) return [...note, signs, words];
  return signs === '' ? note : [...note, signs];
}

/** Tempos that do not begin with the measure, which is where a text has them. */
const within = ({ tempos = [] }: Measure): readonly TempoMark[] =>
  tempos.filter(({ at }) => at >= SAME_PLACE);

const sameNotes = (a: readonly PieceNote[], b: readonly PieceNote[]): boolean =>
  JSON.stringify(a.map(keptNote)) === JSON.stringify(b.map(keptNote));

/** The chords of every measure, by which it is known again. */
const namesOf = (piece: Piece): string[] => asWritten(piece).bars.map(barText);

/** What the text of a piece leaves out; nothing where it says all. */
export function tuneOf(piece: Piece): string | undefined {
  const written = asWritten(piece);
  // what a text says of them: a note at a chord, as long as that
  const said = pieceOf(written).measures;
  const names = written.bars.map(barText);
  let isMore = false;
  const kept = piece.measures.map((measure, at): KeptMeasure => {
    const { notes, words, key } = measure;
    const tempos = within(measure);
    const hasNotes = !sameNotes(notes, said[at]?.notes ?? []);
    isMore ||= hasNotes || words !== undefined || tempos.length > 0 || key !== undefined;
    return {
      is: names[at] ?? '',
      ...(notes.length === 0 ? {} : { notes: notes.map(keptNote) }),
      ...(words === undefined ? {} : { words }),
      ...(tempos.length === 0 ? {} : { tempos }),
      ...(key === undefined ? {} : { key: keyText(key) }),
    };
  });
  const text = isMore ? JSON.stringify(kept) : undefined;
  return text === undefined || text.length > MOST_TUNE ? undefined : text;
}

const isNumber = (value: unknown): value is number =>
  typeof value === 'number' && Number.isFinite(value) && value >= 0;
const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

/** A note as it was kept; nothing where it is none. */
function noteIn(value: unknown): PieceNote[] {
  const [at, lasts, name, signs, lyrics] = listOf(value);
  if (!isNumber(at) || !isNumber(lasts) || typeof name !== 'string') return [];
  const pitch = name === '-' ? 'rest' : readMelodyNote(name);
  if (pitch === undefined || pitch === 'none') return [];
  const words = listOf(lyrics).map((each) => (typeof each === 'string' ? each : undefined));
  const says = (sign: string): boolean => typeof signs === 'string' && signs.includes(sign);
  return [
    {
      ...{ at, lasts, pitch },
      ...(says('t') ? { tied: true as const } : {}),
      ...(says('s') ? { slurred: true as const } : {}),
      ...(words.length === 0 ? {} : { lyrics: words }),
    },
  ];
}

function wordsIn(value: unknown): PieceWords[] {
  if (!isRecord(value) || !isNumber(value['at']) || typeof value['text'] !== 'string') return [];
  const { at, text } = value;
  return [
    {
      ...{ at, text },
      ...(value['before'] === true ? { before: true as const } : {}),
      ...(value['newLine'] === true ? { newLine: true as const } : {}),
    },
  ];
}

function tempoIn(value: unknown): TempoMark[] {
  if (!isRecord(value)) return [];
  const { at, tempo } = value;
  const [least, most] = BOUNDS.tempo;
  return isNumber(at) && isNumber(tempo) && tempo >= least && tempo <= most ? [{ at, tempo }] : [];
}

/** A measure of the text with what was kept for it. */
function filled(measure: Measure, kept: Readonly<Record<string, unknown>>): Measure {
  const notes = listOf(kept['notes']).flatMap(noteIn);
  const words = listOf(kept['words']).flatMap(wordsIn);
  const tempos = [...(measure.tempos ?? []), ...listOf(kept['tempos']).flatMap(tempoIn)];
  const key = typeof kept['key'] === 'string' ? parseKey(kept['key']) : undefined;
  return {
    ...measure,
    notes: notes.length === 0 ? measure.notes : notes,
    ...(words.length === 0 ? {} : { words }),
    ...(tempos.length === 0 ? {} : { tempos }),
    ...(key === undefined ? {} : { key }),
  };
}

/** The piece of a text with what is kept beside it, under the measures that are as they were. */
export function withTune(piece: Piece, tune: string): Piece {
  let kept: readonly Readonly<Record<string, unknown>>[];
  try {
    kept = listOf(JSON.parse(tune)).filter(isRecord);
  } catch {
    return piece;
  }
  const before = kept.map(({ is }) => String(is));
  const from = new Map(shared(before, namesOf(piece)).map(([was, now]) => [now, was]));
  return {
    ...piece,
    measures: piece.measures.map((measure, at) => {
      const was = from.get(at);
      return was === undefined ? measure : filled(measure, kept[was] ?? {});
    }),
  };
}

/**
 * A piece that was typed, with what only the structure before it held: notes, words, keys and tempos of the
 * measures that still have their chords.
 */
export function laidUnder(piece: Piece, before: Piece): Piece {
  const from = new Map(shared(namesOf(before), namesOf(piece)).map(([was, now]) => [now, was]));
  return {
    ...piece,
    measures: piece.measures.map((measure, at): Measure => {
      const was = before.measures[from.get(at) ?? -1];
      if (was === undefined) return measure;
      const { notes, words, key } = was;
      const tempos = [...(measure.tempos ?? []), ...within(was)];
      return {
        ...measure,
        notes,
        ...(words === undefined ? {} : { words }),
        ...(tempos.length === 0 ? {} : { tempos }),
        ...(key === undefined ? {} : { key }),
      };
    }),
  };
}
