/** Pieces with form: parts played once, repeated, with endings; signs and jumps; a pickup; a tune with words. */
import fc from 'fast-check';
import { noteName, pitchOf } from '$lib/theory/pitch';
import { readChord } from '$lib/theory/readChord';
import type { Jump, Measure, Piece, PieceNote } from '$lib/arrange/piece';

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
/** Without a tune. */
export const anyPiece = fc
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

const anyNote = (at: number, lasts: number): fc.Arbitrary<PieceNote[]> =>
  fc
    .record({
      letter: fc.constantFrom('C', 'E', 'G', 'B'),
      alter: fc.constantFrom(-1, 0, 1),
      octave: fc.integer({ min: 3, max: 6 }),
      lyric: fc.option(fc.constantFrom('road', 'lan-', 'tern'), { nil: undefined }),
      isRest: fc.constantFrom(false, false, false, true),
    })
    .map(({ letter, alter, octave, lyric, isRest }) =>
      isRest
        ? []
        : [
            {
              at,
              lasts,
              pitch: pitchOf(noteName(letter as 'C', alter), octave),
              ...(lyric === undefined ? {} : { lyrics: [lyric] }),
            },
          ],
    );
const RHYTHMS = [[4], [2, 2], [1, 1, 2], [1.5, 0.5, 2], [0.5, 0.5, 3]];
/** With a tune of notes and rests in whole measures; the words of one verse. */
export const anyTune = fc
  .tuple(anyPiece, fc.infiniteStream(fc.constantFrom(...RHYTHMS)))
  .chain(([piece, rhythms]) => {
    const measures = piece.measures.map((measure): fc.Arbitrary<Measure> => {
      if (measure.lasts !== undefined) return fc.constant(measure);
      let at = 0;
      const notes = (rhythms.next().value as number[]).map((lasts) => {
        at += lasts;
        return anyNote(at - lasts, lasts);
      });
      return fc.tuple(...notes).map((all) => ({ ...measure, notes: all.flat() }));
    });
    return fc.tuple(...measures).map((all): Piece => ({ ...piece, measures: all }));
  });

/** Measures with any signs together, whether they make sense or not. */
export const anySigns = fc
  .array(
    fc.tuple(
      anyMeasure,
      fc.record(
        {
          repeats: fc.constant(true as const),
          times: fc.constantFrom(2, 3),
          endings: fc.constantFrom([1], [2], [1, 2], [3]),
        },
        { requiredKeys: [] },
      ),
    ),
    { minLength: 1, maxLength: 6 },
  )
  .map((measures): Piece => ({
    title: 'Lantern Road',
    metre: { beats: 4, unit: 4 },
    measures: measures.map(([measure, signs]) => ({ ...measure, ...signs })),
  }));
