/** What a text of chords cannot say of a piece, as text of its own: it lies beside the chords in a document. */
import { melodyNoteText } from '$lib/arrange/melody';
import {
  SAME_PLACE,
  type Measure,
  type Piece,
  type PieceNote,
  type PieceWords,
  type TempoMark,
} from '$lib/arrange/piece';
import { asWritten, pieceOf } from '$lib/arrange/pieceOf';
import { barText } from '$lib/arrange/writeText';
import { keyText } from '$lib/theory/spelling';

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
export const tempoWithin = ({ tempos = [] }: Measure): readonly TempoMark[] =>
  tempos.filter(({ at }) => at >= SAME_PLACE);

const sameNotes = (a: readonly PieceNote[], b: readonly PieceNote[]): boolean =>
  JSON.stringify(a.map(keptNote)) === JSON.stringify(b.map(keptNote));

/** The chords of every measure, by which it is known again. */
export const namesOf = (piece: Piece): string[] => asWritten(piece).bars.map(barText);

/** What the text of a piece leaves out; nothing where it says all. */
export function tuneOf(piece: Piece): string | undefined {
  const written = asWritten(piece);
  // what a text says of them: a note at a chord, as long as that
  const said = pieceOf(written).measures;
  const names = written.bars.map(barText);
  let isMore = false;
  const kept = piece.measures.map((measure, at): KeptMeasure => {
    const { notes, words, key } = measure;
    const tempos = tempoWithin(measure);
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
