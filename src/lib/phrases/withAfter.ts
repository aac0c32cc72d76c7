/** A phrase taken into a piece. */
import type { Piece } from '$lib/arrange/piece';
import { DEFAULT_METRE } from '$lib/arrange/progression';

/** A piece with another after its end, in its own tempo; a measure says so where the metre changes. */
export function withAfter(piece: Piece, added: Piece): Piece {
  const metre = piece.measures.reduce(
    (now, each) => each.metre ?? now,
    piece.metre ?? DEFAULT_METRE,
  );
  if (piece.measures.length === 0) {
    const { title: _title, ...rest } = added;
    return { ...rest, ...(piece.title === undefined ? {} : { title: piece.title }) };
  }
  const next = added.metre ?? DEFAULT_METRE;
  const changes = next.beats !== metre.beats || next.unit !== metre.unit;
  return {
    ...piece,
    measures: [
      ...piece.measures,
      ...added.measures.map((measure, at) =>
        at === 0 && changes ? { ...measure, metre: next } : measure,
      ),
    ],
  };
}
