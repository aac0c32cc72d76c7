import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chordFaultText, readChord, type ChordFault } from '$lib/theory/readChord';
import { chromasIn } from '$lib/theory/pcset';
import { nameText } from '$lib/theory/pitch';
import { runs } from '../../battery';

/** Pitch classes above the root, without the bass. */
function tones(symbol: string): string {
  const result = readChord(symbol);
  if (!result.ok) throw new Error(chordFaultText(result.error));
  if (result.value === 'no chord') return 'no chord';
  const own = result.value.tones.filter((tone) => tone.role !== 'bass');
  return own.map((tone) => tone.degree).join(' ');
}

const refused = (text: string): ChordFault => {
  const result = readChord(text);
  if (result.ok) throw new Error(`${text} was read`);
  return result.error;
};

/** Degrees by hand from the names; where makers of symbols differ the reason stands in the code. */
const SPELLINGS: readonly (readonly [degrees: string, symbols: string])[] = [
  ['1 3 5', 'C CM Cmaj Cmajor C^ C/E C/Bb c Bbb B♭♭ B𝄫 F𝄪'],
  ['1 b3 5', 'Cm Cmin Cmi C- C− Cminor F##m F♯♯m'],
  ['1 3 5 7', 'Cmaj7 CM7 CΔ7 CΔ C^7 Cma7 CMaj7 C△7 C(maj7) Cmaj(7)'],
  ['1 b3 5 b7', 'C-7 Cm7 Cmi7 Cmin7 am7 C−7 Am7/G'],
  ['1 3 5 b7', 'C7 Cdom7 Cdom B♭7 C(b7)'],
  ['1 b3 b5 b7', 'Cø Cø7 Cm7b5 C♯m7♭5 C-7b5 Cm7(b5) Ch7 Cm7-5'],
  ['1 b3 b5 bb7', 'C°7 Co7 Cdim7'],
  ['1 b3 b5', 'C° Co Cdim'],
  ['1 3 #5', 'C+ Caug C+5 C(#5)'],
  ['1 3 #5 b7', 'Caug7 C+7 C7#5 C7+ C7aug C7+5'],
  ['1 3 5 6', 'C6 CM6 Cmaj6 Cb6'],
  ['1 3 5 6 9', 'C6/9 C69 Cmaj6/9 C6add9 C6(9) C(69) C(6/9)'],
  ['1 b3 5 6 9', 'Cm6/9 Cm69 C-69'],
  [
    '1 3 5 b7 #9 b13',
    'C7#9b13 C7(#9b13) C7(#9,b13) C7 (#9 b13) C7♯9♭13'.replace('C7 (#9 b13) ', ''),
  ],
  ['1 3 5 b7 b9 #11', 'C7(b9,#11) C7b9#11 C7-9+11'],
  ['1 3 #5 b7 #9', 'C7#5#9 C7(#9,#5)'],
  ['1 3 b5 #5 b7 b9 #9', 'C7alt Calt G7alt'],
  ['1 4 5', 'Csus Csus4 C4 CSus4'],
  ['1 2 5', 'Csus2'],
  ['1 4 5 b7', 'C7sus C7sus4 Csus7 Csus4(add7)'],
  ['1 4 5 b7 9', 'C9sus4 C9sus Bb9sus4'],
  ['1 4 5 b7 9 13', 'Bb13sus C13sus4'],
  ['1 2 4 5', 'Asus2/4 Asus24 Asus4/2'],
  ['1 3 5 9', 'Cadd9 C(add9) C2 Cadd2 C(9)'],
  ['1 b3 5 9', 'Cmadd9 Cm(add9) Cm2'],
  ['1 b3 5 7', 'Dm/maj7 Dm(maj7) DmM7 DmΔ7 D-Δ Dm#7'],
  ['1 5', 'C5 C(no3) Cno3 Comit3'],
  ['1 3 b7 9', 'C9no5 C9(no5)'],
  ['1 2 5 7', 'Cmaj7sus2'],
  ['1 4 5 b7 b9', 'C7sus4b9 C7b9sus C7b9sus4'],
  ['1 3 5 #11', 'Cadd#11 C(add#11) Cadd♯11'],
  ['1 b3 5 b7 11', 'Dm7add11 Dm7(11) Dm7add4'],
  ['1 3 b5 b7 #9', 'C7b5#9'],
  ['1 b3 #5', 'Cm+ Cm#5'],
  ['1 b3 5 11', 'Cm4 Cm(11) Cmadd4'],
  ['1 b3 b5 bb7 7', 'Cdim7(maj7)'],
  ['1 3 5 b7 #9', 'C7#9 C7#2 C7+9'],
  ['1 3 5 b7 13', 'C67 C(67)'],
  ['1 b3 5 7 9', 'Dm(#7)9 Dm(maj9)'],
  ['1 3 b7 b13', 'C7b13'],
  ['1 5 b7 9 11', 'C11'],
  ['1 3 5 b7 9 13', 'C13'],
  ['1 3 5 7 9 #11', 'F#maj9#11'],
  ['1 b3 5 b7 9 11', 'Cmin11 Cm11 C-11'],
  ['1 3 5 b7 9', 'Cb9 D9/F# C7,9 C7/9'],
];

describe('reading chord symbols', () => {
  for (const [degrees, symbols] of SPELLINGS) {
    it(`reads ${degrees} from ${symbols}`, () => {
      for (const symbol of symbols.split(' ')) expect(tones(symbol), symbol).toBe(degrees);
    });
  }

  it('lets spaces stand around and inside', () => {
    expect(tones('  C7 (#9 b13) ')).toBe('1 3 5 b7 #9 b13');
    expect(tones('C / E')).toBe('1 3 5');
    expect(tones('C6/9 / E')).toBe('1 3 5 6 9');
    expect(tones('G dominant 7')).toBe('1 3 5 b7');
    expect(tones('D diminished')).toBe('1 b3 b5');
  });

  it('takes sharps and flats after the letter for the root', () => {
    const root = (symbol: string): string => {
      const result = readChord(symbol);
      return result.ok && result.value !== 'no chord' ? nameText(result.value.root) : '';
    };
    expect([root('Bbb'), root('Cb6'), root('F##m'), root('bb7'), root('b7')]).toEqual([
      'Bbb',
      'Cb',
      'F##',
      'Bb',
      'B',
    ]);
  });

  it('knows no chord', () => {
    for (const text of ['N.C.', 'NC', 'n.c.', ' N.C. ']) expect(tones(text)).toBe('no chord');
  });

  it.each([
    ['Hm', 0, 'Hm'],
    ['Cmaj7x', 5, 'x'],
    ['Cmaj7x ', 5, 'x'],
    ['  Hm', 2, 'Hm'],
    ['C7(b9', 2, '('],
    ['C7b9)', 4, ')'],
    ['C/E/G', 2, 'E/G'],
    ['C77', 2, '7'],
    ['Cm5', 2, '5'],
    ['C7m', 2, 'm'],
    ['C3', 1, '3'],
    // what is major, augmented or altered is said first, and what is suspended once and of a third
    ['Cmmaj', 2, 'maj'],
    ['CmM6', 2, 'M6'],
    ['Cmaug', 2, 'aug'],
    ['C9alt', 2, 'alt'],
    ['C7maj7', 2, 'maj7'],
    ['Cdim(b7)maj7', 8, 'maj7'],
    ['C7(b7)', 3, 'b7)'],
    ['C7#13', 2, '#13'],
    ['Csus4sus2', 5, 'sus2'],
    ['C5sus4', 2, 'sus4'],
    ['C/', 1, '/'],
    ['C//E', 1, '/'],
    ['C7,', 2, ','],
    ['C♯7 nonsense', 4, 'nonsense'],
  ])('refuses %s and marks the place', (text, at, found) => {
    expect(refused(text)).toMatchObject({ text, at, found, length: found.length });
  });

  it('says a fault in a sentence', () => {
    expect(chordFaultText(refused('Cmaj7x'))).toMatch(
      /^“Cmaj7x”: “x” at place 6 is not understood; /,
    );
    expect(chordFaultText(refused(''))).toBe(
      'There is no chord to read: a chord begins with a letter from A to G.',
    );
    expect(refused('   ')).toMatchObject({ at: 0 });
    expect(chordFaultText(refused('   '))).toBe(chordFaultText(refused('')));
    // nothing of a text but its piece
    expect(chordFaultText(refused('  Hm '))).toMatch(/^“Hm” at place 3 is not understood; /);
    expect(chordFaultText(refused('C(no3no5)'))).toMatch(/; two tones have to be left\.$/);
  });

  it('reads a hundred characters and no more', () => {
    expect(tones('C7'.padEnd(100))).toBe('1 3 5 b7');
    expect(refused('C7'.padEnd(101))).toMatchObject({ at: 100 });
    expect(chordFaultText(refused('C7'.padEnd(101, 'x')))).toContain('at most 100 characters');
  });

  const pieces =
    'm maj7 7 9 11 13 6 sus4 sus2 add9 b5 #5 #9 b9 #11 b13 ( ) , / E Bb no5 no3 dim + ø alt °'.split(
      ' ',
    );
  const likely = fc
    .tuple(
      fc.constantFrom('C', 'F#', 'Bb', 'Gbb', 'A♯', 'd'),
      fc.array(fc.constantFrom(...pieces), { maxLength: 5 }),
    )
    .map(([root, rest]) => root + rest.join(''));

  it('never throws, and marks a place inside the text', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string({ unit: 'binary' }), likely), (text) => {
        const result = readChord(text);
        if (result.ok) return;
        expect(result.error.at).toBeLessThanOrEqual(text.length);
        expect(text.slice(result.error.at)).toContain(result.error.found);
        expect(chordFaultText(result.error)).not.toBe('');
      }),
      { numRuns: runs(600, 30_000) },
    );
    expect.hasAssertions();
  });

  it('reads its own symbol back to the same chord', () => {
    let read = 0;
    fc.assert(
      fc.property(likely, (text) => {
        const first = readChord(text);
        if (!first.ok || first.value === 'no chord') return;
        read++;
        const again = readChord(first.value.symbol);
        if (!again.ok || again.value === 'no chord') throw new Error(first.value.symbol);
        expect(again.value.symbol).toBe(first.value.symbol);
        expect(again.value.bass).toEqual(first.value.bass);
        expect(chromasIn(again.value.pitchClasses)).toEqual(chromasIn(first.value.pitchClasses));
      }),
      { numRuns: runs(1200, 50_000) },
    );
    expect(read).toBeGreaterThan(500);
  });
});

it.each([
  // as lead sheets print them in capitals, and the nought that stands for a circle (ChordPro)
  ['CMA7', 'Cmaj7'],
  ['CMI7', 'Cm7'],
  ['BbMA9', 'Bbmaj9'],
  ['F#MI7b5', 'F#m7b5'],
  ['C0', 'Cdim'],
  ['C07', 'Cdim7'],
])('“%s” is another writing of %s', (written, canonical) => {
  const read = readChord(written);
  expect(read.ok && read.value !== 'no chord' && read.value.symbol).toBe(canonical);
});
