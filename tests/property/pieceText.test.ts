/**
 * Pieces with form as text: what is written is read back with the same signs, and played in the same
 * order as a plain unrolling by `inOrder` says.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readChord } from '$lib/theory/readChord';
import { orderOf } from '$lib/arrange/inOrder';
import type { Jump, Measure, Piece } from '$lib/arrange/piece';
import { progressionOf } from '$lib/arrange/pieceOf';
import { readProgression } from '$lib/arrange/readText';
import { writePiece } from '$lib/arrange/writeText';
import { runs } from '../battery';

const chord = (symbol: string) => {
  const read = readChord(symbol);
  if (!read.ok) throw new Error(symbol);
  return read.value;
};

const anyMeasure = fc
  .record({
    symbols: fc.array(fc.constantFrom('C', 'Am7', 'G7', 'N.C.', 'F/A'), {
      minLength: 1,
      maxLength: 3,
    }),
    section: fc.option(fc.constantFrom('A', 'Verse 2'), { nil: undefined }),
    sign: fc.option(fc.constantFrom('segno', 'coda', 'toCoda', 'fine'), {
      nil: undefined,
      freq: 4,
    }),
    jump: fc.option(
      fc.record({
        to: fc.constantFrom<Jump['to']>('beginning', 'segno'),
        until: fc.constantFrom<Jump['until']>('end', 'fine', 'coda'),
      }),
      { nil: undefined, freq: 5 },
    ),
  })
  .map(({ symbols, section, sign, jump }): Measure => ({
    chords: symbols.map((symbol, at) => ({ at: (4 * at) / symbols.length, chord: chord(symbol) })),
    notes: [],
    ...(section === undefined ? {} : { section }),
    ...(sign === undefined ? {} : { [sign]: true }),
    ...(jump === undefined ? {} : { jump }),
  }));

/** A part played once, a repeated part, or one with two endings. */
const anyPart = fc
  .tuple(
    fc.constantFrom('once', 'twice', 'thrice', 'endings'),
    fc.array(anyMeasure, { minLength: 1, maxLength: 4 }),
    fc.array(anyMeasure, { minLength: 1, maxLength: 2 }),
    fc.array(anyMeasure, { minLength: 1, maxLength: 2 }),
  )
  .map(([kind, body, first, second]): Measure[] => {
    if (kind === 'once') return body;
    const opened = body.map((measure, at) =>
      at === 0 ? { ...measure, repeats: true as const } : measure,
    );
    const last = (measures: Measure[], times: number): Measure[] =>
      measures.map((each, at) => (at === measures.length - 1 ? { ...each, times } : each));
    if (kind !== 'endings') return last(opened, kind === 'twice' ? 2 : 3);
    const ending = (measures: Measure[], number: number): Measure[] =>
      measures.map((each) => ({ ...each, endings: [number] }));
    return [...opened, ...last(ending(first, 1), 2), ...ending(second, 2)];
  });
const anyPiece = fc
  .tuple(fc.array(anyPart, { minLength: 1, maxLength: 4 }), fc.constantFrom(undefined, 1, 2))
  .map(([parts, lasts]): Piece => ({
    title: 'Lantern Road',
    metre: { beats: 4, unit: 4 },
    measures: [
      ...(lasts === undefined
        ? []
        : [{ lasts, chords: [{ at: 0, chord: chord('G7') }], notes: [] }]),
      ...parts.flat(),
    ],
  }));

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
      { numRuns: runs(150) },
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
