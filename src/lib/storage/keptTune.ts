/**
 * What a text of chords cannot say of a piece: notes with their lengths, ties and words, keys and tempos within.
 * In a document it stands beside the chords, told measure by measure, each with its chords. Where a piece is typed,
 * it goes along with the measures that still are what they were; so an edit loses the notes of the measures that
 * it changes alone.
 */
import { readMelodyNote } from '$lib/arrange/melody';
import { namesOf, tempoWithin } from '$lib/formats/tuneBeside';
import {
  type Measure,
  type Piece,
  type PieceNote,
  type PieceWords,
  type TempoMark,
} from '$lib/arrange/piece';
import { BOUNDS } from '$lib/arrange/progression';
import { parseKey } from '$lib/theory/spelling';
import { isRecord } from '$lib/setup/parsed';
import { shared } from './textMerge';

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
      const tempos = [...(measure.tempos ?? []), ...tempoWithin(was)];
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
