/** A piece in the order and the time in which it is played; orders and times worked out by hand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseNoteName, parsePitch } from '$lib/theory/pitch';
import { readChord } from '$lib/theory/readChord';
import { inOrder, orderOf } from '$lib/arrange/inOrder';
import type { Measure, Piece, PieceNote } from '$lib/arrange/piece';
import { pieceOf, progressionOf } from '$lib/arrange/pieceOf';
import { stepsOf, type Progression, type Slot } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';

const chord = (symbol: string) => {
  const read = readChord(symbol);
  if (!read.ok) throw new Error(symbol);
  return read.value;
};
const measure = (symbol: string, signs: Partial<Measure> = {}): Measure => ({
  chords: symbol === '' ? [] : [{ at: 0, chord: chord(symbol) }],
  notes: [],
  ...signs,
});
const pitch = (text: string) => {
  const read = parsePitch(text) ?? parseNoteName(text);
  if (read === undefined) throw new Error(text);
  return read;
};
const note = (text: string, at: number, lasts: number, more: Partial<PieceNote> = {}) => ({
  at,
  lasts,
  pitch: text === 'rest' ? ('rest' as const) : pitch(text),
  ...more,
});

/** Measures named by letters in the order of playing. */
function played(...measures: readonly Partial<Measure>[]): string {
  const { order } = orderOf(measures.map((signs) => measure('C', signs)));
  return order.map((at) => 'ABCDEFGHIJ'[at]).join('');
}

describe('the order of playing', () => {
  it('is as written without signs', () => {
    expect(played({}, {}, {})).toBe('ABC');
  });
  it('takes a repeated part as often as it says, from its sign or from the beginning', () => {
    expect(played({}, { times: 2 }, {})).toBe('ABABC');
    expect(played({}, { repeats: true }, { times: 3 }, {})).toBe('ABCBCBCD');
    expect(played({ repeats: true }, { times: 2 }, { repeats: true, times: 2 }, {})).toBe(
      'ABABCCD',
    );
    // without a sign of its own a second repeat begins where the first one ended
    expect(played({}, { times: 2 }, {}, { times: 2 })).toBe('ABABCDCD');
  });
  it('takes each ending in its turn', () => {
    expect(played({}, { endings: [1], times: 2 }, { endings: [2] }, {})).toBe('ABACD');
    expect(played({ repeats: true }, { endings: [1, 2], times: 3 }, { endings: [3] }, {})).toBe(
      'ABABACD',
    );
    expect(
      played({}, { endings: [1] }, { endings: [1], times: 2 }, { endings: [2] }, { endings: [2] }),
    ).toBe('ABCADE');
    expect(
      played(
        { repeats: true },
        { endings: [1], times: 2 },
        { endings: [2] },
        { repeats: true },
        { endings: [1], times: 2 },
        { endings: [2] },
      ),
    ).toBe('ABACDEDF');
  });
  it('goes back to the beginning or the sign, and ends where it is told', () => {
    expect(played({}, { fine: true }, { jump: { to: 'beginning', until: 'fine' } })).toBe('ABCAB');
    expect(played({}, { segno: true }, {}, { jump: { to: 'segno', until: 'end' } })).toBe(
      'ABCDBCD',
    );
    expect(
      played(
        {},
        { segno: true },
        { toCoda: true },
        { jump: { to: 'segno', until: 'coda' } },
        { coda: true },
        {},
      ),
    ).toBe('ABCDBCEF');
  });
  it('does not repeat again after a jump, and takes the last ending', () => {
    // common practice of notation
    expect(
      played(
        { repeats: true },
        { endings: [1], times: 2 },
        { endings: [2], fine: true },
        { jump: { to: 'beginning', until: 'fine' } },
      ),
    ).toBe('ABACDAC');
    expect(
      played({}, { times: 2, fine: true }, {}, { jump: { to: 'beginning', until: 'fine' } }),
    ).toBe('ABABCDAB');
  });
  it('tells signs that lead nowhere, and goes on', () => {
    expect(orderOf([measure('C', { jump: { to: 'segno', until: 'end' } }), measure('F')])).toEqual({
      order: [0, 1],
      lost: [{ measure: 0, sign: 'segno' }],
    });
    const fine = orderOf([measure('C', { jump: { to: 'beginning', until: 'fine' } })]);
    expect(fine).toEqual({ order: [0, 0], lost: [{ measure: 0, sign: 'fine' }] });
  });
  it('always comes to an end', () => {
    const signs = fc.record(
      {
        repeats: fc.constant(true as const),
        times: fc.integer({ min: 2, max: 5 }),
        endings: fc.subarray([1, 2, 3], { minLength: 1 }),
        segno: fc.constant(true as const),
        coda: fc.constant(true as const),
        toCoda: fc.constant(true as const),
        fine: fc.constant(true as const),
        jump: fc.record({
          to: fc.constantFrom('beginning' as const, 'segno' as const),
          until: fc.constantFrom('end' as const, 'fine' as const, 'coda' as const),
        }),
      },
      { requiredKeys: [] },
    );
    fc.assert(
      fc.property(fc.array(signs, { maxLength: 10 }), (measures) => {
        const { order } = orderOf(
          measures.map((each) => measure('C', each)),
          500,
        );
        expect(order.length).toBeLessThanOrEqual(500);
        // at most ten measures, five times through, and once more after a jump
        expect(order.length).toBeLessThanOrEqual(10 * 5 * 2);
      }),
    );
  });
});

describe('a piece in time', () => {
  it('counts a pickup at its true length, and changes of metre in their own beats', () => {
    const piece: Piece = {
      metre: { beats: 3, unit: 4 },
      tempo: 60,
      measures: [
        measure('G', { lasts: 1, notes: [note('D4', 0, 1)] }),
        measure('C'),
        measure('D', { metre: { beats: 6, unit: 8 } }),
      ],
    };
    const { moments, beats, seconds } = inOrder(piece);
    expect(moments.map(({ at, lasts, seconds: from }) => [at, lasts, from])).toEqual([
      [0, 1, 0],
      [1, 3, 1],
      [4, 6, 4],
    ]);
    // six eighths are three quarters: three seconds at sixty
    expect([beats, seconds]).toEqual([10, 7]);
  });
  it('follows the tempo within a measure too', () => {
    const piece: Piece = {
      tempo: 60,
      measures: [
        measure('G', {
          tempos: [{ at: 2, tempo: 120 }],
          chords: [
            { at: 0, chord: chord('G') },
            { at: 3, chord: chord('C') },
          ],
        }),
        measure('D'),
      ],
    };
    // two seconds for two quarters, then half a second each
    expect(inOrder(piece).moments.map(({ seconds }) => seconds)).toEqual([0, 2.5, 3]);
  });
  it('makes one note of what is tied, over a bar line and into a repeat', () => {
    const piece: Piece = {
      measures: [
        measure('G', {
          times: 2,
          notes: [note('D4', 0, 2), note('rest', 2, 1), note('G4', 3, 1, { tied: true })],
        }),
        measure('C', { notes: [note('G4', 0, 2)] }),
      ],
    };
    const notes = inOrder(piece).notes.map(({ at, lasts }) => [at, lasts]);
    expect(notes).toEqual([
      [0, 2],
      [3, 1],
      [4, 2],
      [7, 3],
    ]);
  });
  it('lets a chord go on over measures that have none', () => {
    const { moments } = inOrder({ measures: [measure('G'), measure(''), measure('D')] });
    expect(moments.map(({ at, lasts }) => [at, lasts])).toEqual([
      [0, 8],
      [8, 4],
    ]);
  });
});

describe('a progression as a piece', () => {
  const slot = fc.record({
    chord: fc.constantFrom('C', 'Am7', 'G7', 'F/A').map(chord),
    share: fc.integer({ min: 1, max: 4 }),
    melody: fc.option(fc.constantFrom('E4', 'G', 'Bb3').map(pitch), { nil: undefined }),
  });
  const progression = fc.record({
    metre: fc.constantFrom({ beats: 4, unit: 4 }, { beats: 3, unit: 4 }, { beats: 6, unit: 8 }),
    bars: fc.array(
      fc.record({
        slots: fc.array(
          slot.map(({ melody, ...rest }): Slot => (melody ? { ...rest, melody } : rest)),
          { minLength: 1, maxLength: 5 },
        ),
      }),
      { maxLength: 6 },
    ),
  });
  const said = (of: Progression) =>
    stepsOf(of).map(({ start, length, chord: sounds, melody }) => ({
      start: start.toFixed(6),
      length: length.toFixed(6),
      sounds,
      melody,
    }));
  it('has the same chords, notes and times, and comes back as it was', () => {
    fc.assert(
      fc.property(progression, (given) => {
        const piece = pieceOf(given);
        expect(said(progressionOf(piece))).toEqual(said(given));
        const quarters = (given.metre.beats * 4) / given.metre.unit;
        const { moments } = inOrder(piece);
        expect(moments.map(({ at, lasts }) => [at.toFixed(6), lasts.toFixed(6)])).toEqual(
          stepsOf(given).map(({ start, length }) => [
            ((start * quarters * given.metre.unit) / 4).toFixed(6),
            ((length * quarters * given.metre.unit) / 4).toFixed(6),
          ]),
        );
      }),
    );
  });
  it('keeps title, key, tempo and sections', () => {
    const { progression: given } = readProgression('title: Air\nkey: G\ntempo: 84\n[A]\nG | C D');
    const back = progressionOf(pieceOf(given));
    expect(back).toEqual(given);
  });
});
