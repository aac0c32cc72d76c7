/** A piece as it is written with other notes on top of its chords: its form stays as far as they let it. */
import { orderOf } from './inOrder';
import { SAME_PLACE, type Measure, type Piece, type PieceNote } from './piece';
import { pieceOf } from './pieceOf';
import type { Bar, Progression } from './progression';
import { writtenWhereAlike } from './writtenOut';

const melodyIn = (bar: Bar | undefined): string =>
  JSON.stringify(bar?.slots.map(({ melody }) => melody));

/** Words stay under the notes that stand where they stood. */
const sungAs = (notes: readonly PieceNote[], before: readonly PieceNote[]): PieceNote[] =>
  notes.map((note) => {
    const there = before.find(({ at }) => Math.abs(at - note.at) < SAME_PLACE);
    return there?.lyrics === undefined ? note : { ...note, lyrics: there.lyrics };
  });

/**
 * A piece with the notes that its chords have got. A measure whose chords have the notes that they had keeps
 * all of its own; a part whose passes have different notes is written out.
 *
 * @param before the piece unrolled
 * @param after the same bars, with other notes
 * @returns nothing where the bars are not those of the piece
 */
export function withNotesOf(
  piece: Piece,
  before: Progression,
  after: Progression,
): Piece | undefined {
  const { order } = orderOf(piece.measures);
  if (order.length !== after.bars.length || order.length !== before.bars.length) return undefined;
  const written = writtenWhereAlike(
    piece,
    order,
    (at, first) => melodyIn(after.bars[at]) === melodyIn(after.bars[first]),
  );
  const notes = pieceOf(after).measures;
  return {
    ...written.piece,
    measures: written.piece.measures.map((measure, index): Measure => {
      const bar = written.played[index];
      if (bar === undefined || melodyIn(after.bars[bar]) === melodyIn(before.bars[bar]))
        return measure;
      return { ...measure, notes: sungAs(notes[bar]?.notes ?? [], measure.notes) };
    }),
  };
}
