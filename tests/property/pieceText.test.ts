/**
 * Pieces with form as text: what is written is read back with the same signs, and played in the same
 * order as a plain unrolling by `inOrder` says.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Piece } from '$lib/arrange/piece';
import { readProgression } from '$lib/arrange/readText';
import { writePiece } from '$lib/arrange/writeText';
import { readAbc } from '$lib/formats/read/abc';
import { writeAbc } from '$lib/formats/write/abc';
import { readChordPro } from '$lib/formats/read/chordPro';
import { writeChordPro } from '$lib/formats/write/chordPro';
import { asWritten, progressionOf } from '$lib/arrange/pieceOf';
import { readMusicXml } from '$lib/formats/read/musicXml';
import { writeMusicXml } from '$lib/formats/write/musicXml';
import { builtIn } from '$lib/setup/builtIns';
import { inOrder, orderOf } from '$lib/arrange/inOrder';
import { isPitch } from '$lib/arrange/progression';
import { runs } from '../battery';
import { anyPiece, anySigns, anyTune } from './anyPiece';

const E9 = builtIn('e9');

const formOf = ({ measures }: Piece) =>
  measures.map(({ chords: _chords, notes: _notes, ...signs }) => signs);

describe('a piece as text', () => {
  it('is read back with its form and its chords', () => {
    fc.assert(
      fc.property(anyPiece, (piece) => {
        const text = writePiece(piece);
        const { piece: back, progression } = readProgression(text);
        if (back === undefined) throw new Error('a piece was expected');
        expect(formOf(back), text).toEqual(formOf(piece));
        expect(orderOf(back.measures).order).toEqual(orderOf(piece.measures).order);
        expect(progression.bars).toEqual(progressionOf(piece).bars);
        // writing again changes nothing
        expect(writePiece(back)).toBe(text);
      }),
      { numRuns: runs(75, 1500) },
    );
  });

  it('reads endings and signs as players write them', () => {
    const { progression, faults } = readProgression(
      '[A]\n|: C | F |1. G7 :|2. C || (Segno) Am | Dm (To Coda) | G7 (D.S. al Coda) | (Coda) C\n',
    );
    expect(faults).toEqual([]);
    const heard = progression.bars.map(({ slots }) =>
      slots.map(({ chord: each }) => (each === 'no chord' ? '' : each.symbol)).join(' '),
    );
    expect(heard).toEqual('C F G7 C F C Am Dm G7 Am Dm C'.split(' '));
  });

  it('says a fault in a formed text at its bar as it is played first', () => {
    const { faults } = readProgression('|: C |1. Hx :|2. F ||');
    expect(faults[0]?.slot).toEqual({ bar: 1, slot: 0 });
  });
});

/** What is played: notes with their places, lengths and words. */
const tuneOf = (piece: Piece): string[] =>
  inOrder(piece).notes.map(({ pitch, at, lasts }) => {
    const midi = isPitch(pitch) ? pitch.midi : -1;
    return `${String(midi)} at ${at.toFixed(4)} for ${lasts.toFixed(4)}`;
  });
const wordsOf = ({ measures }: Piece): string =>
  measures.flatMap(({ notes }) => notes.flatMap(({ lyrics = [] }) => lyrics[0] ?? [])).join(' ');

/**
 * As ABC can say it: a jump that does not say how the piece ends then ends at a fine or goes to the coda
 * where there is one, and of signs for a coda the first is where the way to it leaves. A part that is
 * played three times is written out, which a jump out of it cannot be.
 */
function sayable(piece: Piece): Piece {
  const ends = piece.measures.some(({ fine, toCoda }) => fine === true || toCoda === true);
  const jumps = piece.measures.some(({ jump }) => jump !== undefined);
  let leaves = false;
  return {
    ...piece,
    measures: piece.measures.map(({ jump, coda, toCoda, times, ...measure }) => {
      const isCoda = coda === true && leaves;
      const leavesHere = toCoda === true && !leaves;
      leaves ||= leavesHere;
      return {
        ...measure,
        ...(times === undefined ? {} : { times: jumps ? 2 : times }),
        ...(leavesHere ? { toCoda } : {}),
        ...(isCoda ? { coda } : {}),
        ...(jump === undefined || (jump.until === 'end' && ends) ? {} : { jump }),
      };
    }),
  };
}

describe('signs that make no sense', () => {
  it('stay as they are in a text, and other formats have what is played', () => {
    fc.assert(
      fc.property(anySigns, (piece) => {
        const text = writePiece(piece);
        const { piece: back } = readProgression(text);
        if (back === undefined) throw new Error('a piece was expected');
        expect(orderOf(back.measures).order, text).toEqual(orderOf(piece.measures).order);
        expect(writePiece(back)).toBe(text);
        expect(heardOf(readChordPro(writeChordPro(piece)).piece), text).toEqual(heardOf(piece));
        const plain = withoutJumps(piece);
        const tune = readAbc(writeAbc(plain));
        // where nothing is played there is nothing to read
        if (orderOf(plain.measures).order.length === 0) return;
        expect(tune.ok, text).toBe(true);
        if (tune.ok) expect(heardOf(tune.value.piece), text).toEqual(heardOf(plain));
      }),
      { numRuns: runs(50, 1000) },
    );
  });

  it('such as an ending before anything that it could end', () => {
    const text = '|: F | G :|2. C |: |1. C (D.S.)\n';
    const { piece, progression } = readProgression(text);
    if (piece === undefined) throw new Error('a piece was expected');
    // behind a repeat sign a new part begins, in whose first pass its second ending is not played
    const heard = ['F', 'G', 'F', 'G', 'C'];
    const symbols = ({ bars }: typeof progression): string[] =>
      bars.flatMap(({ slots }) =>
        slots.map(({ chord: each }) => (each === 'no chord' ? '' : each.symbol)),
      );
    expect(symbols(progression)).toEqual(heard);
    expect(symbols(readProgression(writePiece(piece)).progression)).toEqual(heard);
    expect(symbols(progressionOf(readChordPro(writeChordPro(piece)).piece))).toEqual(heard);
  });
});

describe('a tune in ABC', () => {
  it('is read back with its form, its notes and its words', () => {
    fc.assert(
      fc.property(anyTune.map(sayable), (piece) => {
        const text = writeAbc(piece);
        const read = readAbc(text);
        if (!read.ok) throw new Error('a tune was expected');
        const back = read.value.piece;
        // what is played more than twice is written out
        if (piece.measures.every(({ times = 2 }) => times === 2))
          expect(orderOf(back.measures).order, text).toEqual(orderOf(piece.measures).order);
        expect(tuneOf(back), text).toEqual(tuneOf(piece));
        if (piece.measures.every(({ times = 2 }) => times === 2))
          expect(wordsOf(back), text).toBe(wordsOf(piece));
        expect(
          read.value.progression.bars.map(({ slots }) => slots.map(({ chord }) => chord)),
        ).toEqual(progressionOf(piece).bars.map(({ slots }) => slots.map(({ chord }) => chord)));
      }),
      { numRuns: runs(50, 1000) },
    );
  });
});

it('a sign in ABC stands where nothing is sung, too', () => {
  const { piece } = readProgression('C | (Segno) F | G7 (D.S.)\n');
  if (piece === undefined) throw new Error('a piece was expected');
  const read = readAbc(writeAbc(piece));
  expect(read.ok && orderOf(read.value.piece.measures).order).toEqual([0, 1, 2, 1, 2]);
});

/** Chords as they are played, measure by measure, with how long each measure is in quarter notes. */
const heardOf = (piece: Piece) => {
  const { measures } = inOrder(piece);
  const { bars } = progressionOf(piece);
  return bars.map(({ slots }, at) => ({
    lasts: measures[at]?.lasts.toFixed(6),
    chords: slots.map(
      ({ chord, share }) => `${chord === 'no chord' ? 'N.C.' : chord.symbol}*${share}`,
    ),
  }));
};
const withoutJumps = (piece: Piece): Piece => ({
  ...piece,
  measures: piece.measures.map(
    ({ jump: _j, segno: _s, coda: _c, toCoda: _t, fine: _f, ...measure }) => measure,
  ),
});

describe('a piece in ChordPro', () => {
  it('is read back with its repeats and endings, what jumps lead to written out', () => {
    fc.assert(
      fc.property(anyPiece, (piece) => {
        const text = writeChordPro(piece);
        const { piece: back, faults } = readChordPro(text);
        expect(faults, text).toEqual([]);
        expect(heardOf(back), text).toEqual(heardOf(piece));
        const plain = withoutJumps(piece);
        if (piece.measures.every(({ times = 2 }) => times === 2))
          expect(formOf(readChordPro(writeChordPro(plain)).piece), text).toEqual(formOf(plain));
      }),
      { numRuns: runs(50, 1000) },
    );
  });

  it('takes no repeat after a jump, be it to the very next measure', () => {
    const { piece } = readProgression('|: C (D.S.) | (Segno) F | G7 :|\n');
    if (piece === undefined) throw new Error('a piece was expected');
    // after a D.S. repeats are not taken, which is common practice
    expect(orderOf(piece.measures).order).toEqual([0, 1, 2]);
    expect(heardOf(readChordPro(writeChordPro(piece)).piece)).toEqual(heardOf(piece));
  });

  it('has its words under its chords, verse by verse', () => {
    fc.assert(
      fc.property(anyTune.map(withoutJumps), (piece) => {
        const text = writeChordPro(piece);
        const { piece: back, faults } = readChordPro(text);
        expect(faults, text).toEqual([]);
        expect(heardOf(back), text).toEqual(heardOf(piece));
        const { order } = orderOf(piece.measures);
        const sung = order.flatMap((at) =>
          (piece.measures[at]?.notes ?? []).flatMap(({ lyrics = [] }) => lyrics[0] ?? []),
        );
        const read = orderOf(back.measures).order.flatMap((at) =>
          (back.measures[at]?.words ?? []).map((words) => words.text),
        );
        expect(read.join('').replace(/\s+/gu, ''), text).toBe(sung.join('').replace(/-/gu, ''));
      }),
      { numRuns: runs(50, 1000) },
    );
  });

  it('keeps the lines of a song text, and a chorus that comes again', () => {
    const song = `{title: Lantern Road}
{key: C}
{time: 4/4}
{start_of_verse}
Down the [C]lantern [F]road we go
[G7]Home a[C]gain
{end_of_verse}
{start_of_chorus}
[F]Light the [C]way
{end_of_chorus}
{start_of_verse: Verse 2}
[C]Winter [F]comes
{end_of_verse}
{chorus}
`;
    expect(writeChordPro(readChordPro(song).piece)).toBe(song);
  });
});

describe('a piece in MusicXML', () => {
  // a jump that does not say how the piece ends then is settled by the signs that there are
  const settled = (piece: Piece): Piece => {
    const ends = piece.measures.some(({ fine, toCoda }) => fine === true || toCoda === true);
    return {
      ...piece,
      measures: piece.measures.map(({ jump, ...measure }) => ({
        ...measure,
        ...(jump === undefined || (ends && jump.until === 'end') ? {} : { jump }),
      })),
    };
  };

  it('is read back with its form, its tune and its words', () => {
    fc.assert(
      fc.property(anyTune.map(settled), (piece) => {
        const text = writeMusicXml(E9, asWritten(piece), [], piece);
        const read = readMusicXml(text);
        if (!read.ok) throw new Error('a score was expected');
        const back = read.value.piece;
        expect(formOf(back), text).toEqual(formOf(piece));
        expect(heardOf(back)).toEqual(heardOf(piece));
        expect(tuneOf(back), text).toEqual(tuneOf(piece));
        expect(wordsOf(back)).toBe(wordsOf(piece));
      }),
      { numRuns: runs(30, 600) },
    );
  });

  it('tells metre and tempo where they change', () => {
    const { piece } = readProgression(
      'tempo: 90\nmetre: 4/4\npickup: 1/4\nG7\nC | F\nmetre: 6/8\ntempo: 120\nAm | Dm\nmetre: 4/4\nG\n',
    );
    if (piece === undefined) throw new Error('a piece was expected');
    const read = readMusicXml(writeMusicXml(E9, asWritten(piece), [], piece));
    if (!read.ok) throw new Error('a score was expected');
    expect(
      read.value.piece.measures.map(({ metre, tempos, lasts }) => [metre, tempos, lasts]),
    ).toEqual([
      [undefined, undefined, 1],
      [undefined, undefined, undefined],
      [undefined, undefined, undefined],
      [{ beats: 6, unit: 8 }, [{ at: 0, tempo: 120 }], undefined],
      [undefined, undefined, undefined],
      [{ beats: 4, unit: 4 }, undefined, undefined],
    ]);
    // 9 quarters at 90, 3 + 3 + 4 at 120
    expect(inOrder(read.value.piece).seconds).toBeCloseTo(9 * (60 / 90) + 10 / 2, 6);
    expect(writePiece(read.value.piece)).toContain('metre: 6/8\ntempo: 120\nAm | Dm\n');
  });
});
