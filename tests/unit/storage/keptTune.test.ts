/** What a text of chords cannot say is kept beside it, and stays with the measures that stay. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Piece } from '$lib/arrange/piece';
import { pieceOf } from '$lib/arrange/pieceOf';
import { readProgression } from '$lib/arrange/readText';
import { readAbc } from '$lib/formats/read/abc';
import { readChordPro } from '$lib/formats/read/chordPro';
import {
  fromText,
  saidBy,
  textOf,
  tuneBeside,
  typed,
  type StoredProgression,
} from '$lib/storage/piece';
import { progressionKind } from '$lib/storage/progressionKind';
import { runs } from '../../battery';
import { anyTune } from '../../property/anyPiece';

/** As it comes back from the device. */
const stored = (piece: Piece): StoredProgression => {
  const read = progressionKind.read(progressionKind.write({ setup: 'e9', wishes: {}, piece }));
  if (!read.ok) throw new Error('a progression was expected');
  return read.value;
};
const tune = (text: string): Piece => {
  const read = readAbc(text);
  if (!read.ok) throw new Error('a tune was expected');
  return read.value.piece;
};
const air = tune(
  'X:1\nT:Lantern Air\nM:4/4\nL:1/4\nQ:1/4=90\nK:C\n"C"c d e2-|"F"e2 z f|"G7"(gf) e d|"C"c4|\nw: Down the road and o-ver the hill we go\n',
);
const notesOf = (piece: StoredProgression): readonly number[] =>
  (saidBy(piece).piece?.measures ?? []).map(({ notes }) => notes.length);

describe('a piece from a file', () => {
  it('is kept with every note, and read from the device as it was', () => {
    fc.assert(
      fc.property(anyTune, (piece) => {
        expect(saidBy(stored(piece)).piece?.measures.map(({ notes }) => notes)).toEqual(
          piece.measures.map(({ notes }) => notes),
        );
      }),
      { numRuns: runs(60) },
    );
  });

  it('keeps ties, slurs and words of an air', () => {
    const back = saidBy(stored(air)).piece;
    expect(back?.measures.map(({ notes }) => notes)).toEqual(
      air.measures.map(({ notes }) => notes),
    );
    expect(back?.measures[0]?.notes.at(-1)?.tied).toBe(true);
    expect(back?.measures[2]?.notes[0]?.slurred).toBe(true);
  });

  it('keeps the words of a song text', () => {
    const { piece } = readChordPro(
      '{title: Lantern Road}\n{time: 4/4}\nDown the [C]road we [F]go\n',
    );
    expect(saidBy(stored(piece)).piece?.measures.map(({ words }) => words)).toEqual(
      piece.measures.map(({ words }) => words),
    );
  });

  it('loses the notes of a measure that is written anew, and of no other', () => {
    const piece = stored(air);
    // the third measure becomes Dm; one is put before the last
    const before = textOf(piece.piece);
    const text = before.replace(/G7:G5/u, 'Dm').replace(/(C:C5)$/u, 'Am | $1');
    expect(text).not.toBe(before);
    const edited = typed(piece, text);
    expect(notesOf(piece)).toEqual([3, 2, 4, 1]);
    expect(notesOf(edited)).toEqual([3, 2, 0, 0, 1]);
    // and has them again where the letter is taken back in the same go of typing
    expect(notesOf(typed(edited, before, piece.piece))).toEqual([3, 2, 4, 1]);
    // while a chord is half written, nothing is lost
    const half = typed(piece, before.replace('G7:G5', 'G7:'));
    expect(half.piece).toBe(piece.piece);
    expect(notesOf(typed(half, before))).toEqual([3, 2, 4, 1]);
  });

  it('has nothing beside its text where that says all', () => {
    const { piece, progression } = readProgression('|: C:E4 | F :|\nG7 | C\n');
    const all = piece ?? pieceOf(progression);
    expect(textOf(all)).toBe('|: C:E4 | F :|\nG7 | C');
    expect(tuneBeside(all)).toBeUndefined();
  });
});

describe('what is kept', () => {
  it('is of the first format where there is no tune, which earlier programs read', () => {
    const plain = fromText({ setup: 'e9', wishes: {} }, 'C | F');
    expect(JSON.parse(progressionKind.write(plain))).toMatchObject({ format: 1 });
    expect(JSON.parse(progressionKind.write(stored(air)))).toMatchObject({ format: 2 });
  });

  it.each(['', 'x', '7', '{}', '[1,[2],null]', '[{"is":"C:C5","notes":[[1],["x"],[0,1,"H"]]}]'])(
    'is the text alone where the tune beside it makes no sense: %s',
    (senseless) => {
      const piece = fromText({ setup: 'e9', wishes: {} }, textOf(air), senseless);
      expect(saidBy(piece).piece?.measures.length).toBe(4);
    },
  );
});
