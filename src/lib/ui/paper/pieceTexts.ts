/** What the code of a piece may carry: all of it, or its chords alone. */
import type { PieceTexts } from '$lib/formats/pieceCode';
import { fromText, textOf, tuneBeside } from '$lib/storage/piece';
import { progressionKind, type StoredProgression } from '$lib/storage/progressionKind';

/** Its chords without what their text leaves out. */
function chordsAlone(value: StoredProgression): StoredProgression {
  // what is asked of single notes has nothing to speak of where they are not there
  const { notes: _asked, ...wishes } = value.wishes;
  return { ...value, piece: fromText(value, textOf(value.piece)).piece, wishes };
}

/** Both as documents. */
export const pieceTexts = (value: StoredProgression): PieceTexts => ({
  whole: progressionKind.write(value),
  ...(tuneBeside(value.piece) === undefined
    ? {}
    : { chords: progressionKind.write(chordsAlone(value)) }),
});
