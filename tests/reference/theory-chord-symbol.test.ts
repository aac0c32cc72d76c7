/**
 * The reader against an independent one, chord-symbol 4.0.0 (MIT), on everyday and odd symbols.
 */
import { describe, expect, it } from 'vitest';
// @ts-expect-error The package has no types for this entry; the main one does not load here.
import { chordParserFactory } from 'chord-symbol/lib/chord-symbol-esm.js';
import { chromaOf, chromaOfName, parseNoteName } from '$lib/theory/pitch';
import { chromasIn, pcSetOf, transpose } from '$lib/theory/pcset';
import { readChord } from '$lib/theory/readChord';

interface Parsed {
  readonly normalized?: { readonly rootNote: string; readonly semitones: readonly number[] };
}
const parse = (chordParserFactory as () => (symbol: string) => Parsed)();

/** Semitones above the root, without a bass. */
function theirs(symbol: string): string {
  const semitones = parse(symbol).normalized?.semitones;
  return semitones ? chromasIn(pcSetOf(semitones)).join(' ') : 'refused';
}

function ours(symbol: string): string {
  const result = readChord(symbol);
  if (!result.ok || result.value === 'no chord') return 'refused';
  const { root, tones } = result.value;
  const own = tones.filter((tone) => tone.role !== 'bass').map((tone) => tone.chroma);
  return chromasIn(transpose(pcSetOf(own), -chromaOfName(root))).join(' ');
}

const SYMBOLS = `C Cm C7 Cmaj7 Cm7 C6 Cm6 C9 Cm9 Cmaj9 Cm11 C11 C13 Cmaj13 Cm7b5 F#maj9#11 Bb13sus
  Dm(maj7) DmM7 E7#9 Asus24 A/C# Cø Cø7 C°7 Co7 Cdim C-7 CΔ7 CΔ C^7 C69 Eb6/9 Gadd9 G(add9) Gmadd9
  C5 C2 C4 Csus Csus2 Csus4 C7sus C9sus4 C+ Caug Caug7 C+7 C7#5 Cmaj7#5 CM7 Cma7 Cmi7 Cmin11
  C7(b9,#11) C7b5#9 Ab7#11 D9/F# C/Bb C#m7/G# Dm7add11 C(no3) C9no5 C♯m7♭5 B♭7 Cb6 Cm6/9 C7sus4b9
  Cadd#11 Cmaj7sus2 C7b13 C9b13 C7b6 C13#11 C13b9 Cmaj7b5 C7b9 C7#11 Cmadd11 Cadd11 Cadd4 Cadd13
  C7add13 G7alt C7b5 C7#5#9 C9#5 C9b5 C13sus4 Cm7#5 Cmaj7#11 Cmaj9#11 C6#11 C7omit3 Cm#5`.split(
  /\s+/,
);

/** Where the two differ, what they say, and why ours stays. */
const DIFFERENT: Readonly<Record<string, string>> = {
  Cmaj11: 'MusicXML’s major-11th has its third',
  Cm13: 'tonal’s m13 has no 11',
  C7b9b13: 'tonal keeps the perfect fifth',
  'C7(#9b13)': 'tonal keeps the perfect fifth',
  Cm7b13: 'a flat thirteenth over a minor chord keeps the fifth',
  Cdim9: 'the seventh of a diminished chord is diminished',
  Cdim11: 'the seventh of a diminished chord is diminished',
};

/** Symbols that they refuse or, like the German H, take, and that are otherwise here. */
const ONE_SIDED: Readonly<Record<string, string>> = {
  'Dm/maj7': '0 3 7 11',
  'Asus2/4': '0 2 5 7',
  'F##m': '0 3 7',
  Bbb: '0 4 7',
  am7: '0 3 7 10',
  Hm: 'refused',
};

describe('an independent reader', () => {
  it('hears the same in everyday symbols', () => {
    for (const symbol of SYMBOLS) expect(ours(symbol), symbol).toBe(theirs(symbol));
    expect(SYMBOLS.length).toBeGreaterThan(90);
  });

  it('differs only for a reason', () => {
    for (const symbol of Object.keys(DIFFERENT)) {
      expect(ours(symbol), symbol).not.toBe('refused');
      expect(ours(symbol), symbol).not.toBe(theirs(symbol));
    }
  });

  it('leaves these to us', () => {
    for (const [symbol, semitones] of Object.entries(ONE_SIDED)) {
      expect(ours(symbol), symbol).toBe(semitones);
    }
  });

  it('finds the same root', () => {
    for (const symbol of SYMBOLS) {
      const root = parseNoteName(parse(symbol).normalized?.rootNote ?? '');
      const result = readChord(symbol);
      if (!root || !result.ok || result.value === 'no chord') throw new Error(symbol);
      expect(chromaOf(chromaOfName(result.value.root)), symbol).toBe(chromaOfName(root));
    }
  });
});
