/** Writing a piece's form out changes nothing of what is played, whichever parts are written out. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inOrder, orderOf } from '$lib/arrange/inOrder';
import type { Piece } from '$lib/arrange/piece';
import { writtenOut } from '$lib/arrange/writtenOut';
import { runs } from '../battery';
import { anyTune } from './anyPiece';

const heard = (piece: Piece) => {
  const { moments, notes, beats, seconds } = inOrder(piece);
  return {
    beats,
    seconds: seconds.toFixed(6),
    chords: moments.map(({ chord, seconds: at }) => [chord, at.toFixed(6)]),
    notes: notes.map(({ pitch, seconds: at }) => [pitch, at.toFixed(6)]),
  };
};

describe('a piece with its form written out', () => {
  it('is played as before', () => {
    fc.assert(
      fc.property(anyTune, fc.boolean(), fc.nat(7), (piece, jump, which) => {
        const out = writtenOut(piece, { jump, part: (from) => ((which >> (from % 3)) & 1) === 1 });
        expect(heard(out.piece)).toEqual(heard(piece));
        const all = writtenOut(piece, { jump: true, part: () => true });
        expect(heard(all.piece)).toEqual(heard(piece));
        expect(orderOf(all.piece.measures).order).toEqual([...all.piece.measures.keys()]);
      }),
      { numRuns: runs(200) },
    );
  });
});
