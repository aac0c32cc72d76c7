/** The bars of a text as they are written, each once, and the piece that they make. */
import { melodyNoteText } from './melody';
import { MEASURES_A_LINE, SAME_PLACE, type Measure, type Piece } from './piece';
import { pieceOf, progressionOf } from './pieceOf';
import { DEFAULT_METRE, quartersOf, type Progression, type Slot } from './progression';

/** What is filled while it is read. */
export type Writable<T> = { -readonly [key in keyof T]: T[key] };
/** A slot while it is read. */
export type SlotDraft = Writable<Slot>;
/** A bar while it is read. */
export interface BarDraft {
  section?: string;
  part?: number;
  slots: SlotDraft[];
}

/** A bar as it is written, with its signs. */
export interface Written {
  readonly bar: BarDraft;
  readonly signs: Writable<Omit<Measure, 'chords' | 'notes'>>;
  /** A line of the text begins with it. */
  readonly begins: boolean;
}

/** Does a measure begin a line where the text says nothing of lines? */
function beginsByItself({ signs }: Written, before: number): boolean {
  const { section, metre, tempos, remarks } = signs;
  const isNew = [section, metre, tempos, remarks].some((each) => each !== undefined);
  return before === 0 || before === MEASURES_A_LINE || isNew;
}

/** Are the lines those in which a piece is written by itself? */
function hasUsualLines(written: readonly Written[]): boolean {
  let before = 0;
  return written.every((each) => {
    const begins = beginsByItself(each, before);
    before = begins ? 1 : before + 1;
    return begins === each.begins;
  });
}

/** What is played, as a text that tells any two apart. */
const keyOfBars = ({ bars }: Progression): string =>
  bars
    .map(({ section = '', part = 1, slots }) => {
      const parts = slots.reduce((sum, { share }) => sum + share, 0);
      const each = slots.map(({ chord, share, melody }) => {
        const symbol = chord === 'no chord' ? '' : chord.symbol;
        const note = melody === undefined ? '' : melodyNoteText(melody);
        return `${symbol} ${(share / parts).toFixed(6)} ${note}`;
      });
      return `${section}|${part.toFixed(6)}|${each.join(',')}`;
    })
    .join('\n');

/** The piece as it is written; its repeats written out where its signs would play something else. */
export function asPlayed(piece: Piece, progression: Progression): Piece {
  const hasRepeats = piece.measures.some(({ times }) => times !== undefined);
  if (!hasRepeats || keyOfBars(progressionOf(piece)) === keyOfBars(progression)) return piece;
  const remarks = [
    ...piece.measures.flatMap((measure) => measure.remarks ?? []),
    ...(piece.remarks ?? []),
  ];
  return { ...pieceOf(progression), ...(remarks.length === 0 ? {} : { remarks }) };
}

/** Every bar once, with the signs that say in which order they are played; `remarks` stand behind the last. */
export function pieceWritten(
  head: Omit<Progression, 'bars'>,
  written: readonly Written[],
  remarks: readonly string[] | undefined,
): Piece {
  const { measures, ...about } = pieceOf({
    ...head,
    bars: written.map(({ bar }) => bar),
  });
  const whole = quartersOf(about.metre ?? DEFAULT_METRE);
  const isUsual = hasUsualLines(written);
  let now = whole;
  return {
    ...about,
    ...(remarks === undefined ? {} : { remarks }),
    measures: measures.map(({ lasts = whole, ...measure }, at): Measure => {
      const { signs, begins } = written[at] as Written;
      if (signs.metre !== undefined) now = quartersOf(signs.metre);
      const isWhole = Math.abs(lasts - now) < SAME_PLACE;
      const line = begins && !isUsual ? { newLine: true as const } : {};
      return { ...measure, ...(isWhole ? {} : { lasts }), ...signs, ...line };
    }),
  };
}
