import { ChordType as Dictionary } from 'tonal';
import { describe, expect, it } from 'vitest';
import { CHORD_TYPES } from '$lib/theory/chordTypes';
import { namesOf, type ChordName } from '$lib/theory/names';
import { chromasIn, pcSetOf, sizeOf, transpose } from '$lib/theory/pcset';
import { chromaOfName, nameText } from '$lib/theory/pitch';
import { readChord } from '$lib/theory/readChord';
import { readKey } from '$lib/theory/spelling';
import { decodeKind } from './decodeKind';

const SOUNDS: (readonly [set: number, bass: number])[] = [];
for (let set = 0; set < 4096; set++) {
  if (sizeOf(set) >= 2) for (const bass of chromasIn(set)) SOUNDS.push([set, bass]);
}

const best = (chromas: number[], bass: number): ChordName => {
  const [name] = namesOf(pcSetOf(chromas), bass);
  if (!name) throw new Error('no name');
  return name;
};
const symbols = (chromas: number[], bass: number, limit = 12): string[] =>
  namesOf(pcSetOf(chromas), bass, { limit }).map((name) => name.symbol);

/** What is wrong with a name of a sound, if anything: the symbol is read back by the reader. */
function dishonesty(name: ChordName, set: number, bass: number): string | undefined {
  const read = readChord(name.symbol);
  if (!read.ok || read.value === 'no chord') return `${name.symbol} is not read`;
  if (read.value.pitchClasses !== set) return `${name.symbol} reads as another sound`;
  // the bass of a partial chord with extensions goes without saying: G13(no5,no9) over F
  const [head = ''] = name.type.split('(no');
  const extended = /9|11|13/.test(head) && !/add|6/.test(head);
  const goesWithout = extended && name.missing.length > 0 && name.added.length === 0;
  if (!goesWithout && chromaOfName(read.value.bass ?? read.value.root) !== bass)
    return `${name.symbol}: bass`;
  if (chromaOfName(name.bass) !== bass) return `${name.symbol}: bass written`;
  if (pcSetOf(name.tones.map((tone) => tone.chroma)) !== set) return `${name.symbol}: tones`;
  if (name.tones.some((t) => chromaOfName(t.name) !== t.chroma)) return `${name.symbol}: spelling`;
  const foreign = name.tones.filter((tone) => tone.role === 'bass').map((tone) => tone.chroma);
  const root = chromaOfName(name.root);
  const decoded = decodeKind(name.kind, name.degrees).map((above) => above + root);
  if (pcSetOf([...decoded, ...foreign]) !== set) return `${name.symbol}: ${name.kind}`;
  if (name.missing.includes('1') === name.tones.some((tone) => tone.role === 'root')) {
    return `${name.symbol}: root`;
  }
  return undefined;
}

describe('names of sounds', () => {
  it('exist for all 4,083 sets over each of their tones, and the best one is honest', () => {
    // C(12,2) + … + C(12,12) = 4096 − 12 − 1 sets; each tone once the bass: 12 · 2^11 − 12 sounds.
    expect(new Set(SOUNDS.map(([set]) => set)).size).toBe(4083);
    expect(SOUNDS.length).toBe(12 * 2 ** 11 - 12);
    const wrong = SOUNDS.map(([set, bass]) => {
      const [name] = namesOf(set, bass, { limit: 1 });
      return name ? dishonesty(name, set, bass) : `${String(set)} has no name`;
    });
    expect(wrong.filter(Boolean)).toEqual([]);
  });

  it('carry the kind of the chord they name, whatever is left out of it or added', () => {
    // by hand, from the kind-value and degree definitions of MusicXML 4.0
    const rows: readonly (readonly [string, string, string])[] = [
      ['C7(no3)', 'dominant', 'subtract 3 0'],
      ['Cmaj7(no5)', 'major-seventh', 'subtract 5 0'],
      ['C(no5)', 'major', 'subtract 5 0'],
      ['Cm(no5)', 'minor', 'subtract 5 0'],
      ['Cm7(no5)', 'minor-seventh', 'subtract 5 0'],
      ['C6(no5)', 'major-sixth', 'subtract 5 0'],
      ['C5', 'power', ''],
    ];
    for (const [symbol, kind, degrees] of rows) {
      const chord = readChord(symbol);
      if (!chord.ok || chord.value === 'no chord') throw new Error(symbol);
      const { pitchClasses, root } = chord.value;
      const named = namesOf(pitchClasses, chromaOfName(root)).find((n) => n.symbol === symbol);
      for (const said of [chord.value, named]) {
        expect(said?.kind, symbol).toBe(kind);
        expect(said?.degrees.map((d) => `${d.type} ${d.value} ${d.alter}`).join(), symbol).toBe(
          degrees,
        );
      }
    }
    // no power chord but the fifth alone, and no minor chord of a kind that is not minor
    const wrong = SOUNDS.flatMap(([set, bass]) => namesOf(set, bass, { limit: 2 })).filter(
      ({ type, kind }) =>
        (kind === 'power' && !type.startsWith('5')) ||
        (/^m(?!aj)/.test(type) && !/minor|diminished/.test(kind)),
    );
    expect(wrong.map(({ symbol, kind }) => `${symbol} ${kind}`)).toEqual([]);
  });

  it('are honest in every place of the list', () => {
    const some = SOUNDS.filter((_, index) => index % 23 === 0);
    const wrong = some.flatMap(([set, bass]) =>
      namesOf(set, bass).map((name) => dishonesty(name, set, bass)),
    );
    expect(wrong.filter(Boolean)).toEqual([]);
  });

  it('are the same wherever they are transposed', () => {
    const inC = (names: readonly ChordName[], by: number): string[] =>
      names.map(({ root, type }) => `${(chromaOfName(root) + 12 - by) % 12} ${type}`);
    for (const [set, bass] of SOUNDS.filter(([set, bass]) => bass === 0 && set % 9 === 1))
      for (const by of [1, 6, 10])
        expect(inC(namesOf(transpose(set, by), by, { limit: 1 }), by)).toEqual(
          inC(namesOf(set, bass, { limit: 1 }), 0),
        );
  });

  it('begin with a whole chord wherever an everyday one stands on its root', () => {
    // an eleventh or thirteenth is one whether the ninth below it sounds or not (common practice)
    const heardAsAnother = ['7add13', 'm7add11'];
    const everyday = CHORD_TYPES.filter(
      ({ everyday, suffix }) => everyday && !heardAsAnother.includes(suffix),
    );
    const partial = everyday
      .map(({ set }) => namesOf(set, 0, { limit: 1 })[0])
      .filter((name) => name === undefined || name.missing.length + name.added.length > 0);
    expect(partial.map((name) => name?.symbol)).toEqual([]);
    expect(everyday.length).toBeGreaterThan(40);
  });

  it('agree with the dictionary in root position wherever a type is nobody else’s inversion', () => {
    const entries = Dictionary.all().map((entry) =>
      pcSetOf([...entry.chroma].flatMap((bit, index) => (bit === '1' ? [index] : []))),
    );
    const unique = entries.filter((set) => {
      const turns = chromasIn(set).map((root) => transpose(set, -root));
      return entries.filter((other) => turns.includes(other)).length === 1;
    });
    const own = new Set(CHORD_TYPES.map((type) => type.set));
    // a lowered fifth beside a major third is taken for a raised eleventh, or for another root's tone:
    // C E F♯ is D9 on every guitar and steel (common practice)
    const loweredFifth = (set: number): boolean => (set & pcSetOf([4, 6, 7])) === pcSetOf([4, 6]);
    const tested = unique.filter((set) => own.has(set) && !loweredFifth(set));
    for (const set of tested) {
      const [name] = namesOf(set, 0);
      expect(name && chromaOfName(name.root), name?.symbol).toBe(0);
      // a thirteenth is one whether its ninth sounds or not
      const changes = name && [...name.missing, ...name.added].filter((degree) => degree !== '9');
      expect(changes).toEqual([]);
    }
    expect(tested.length).toBeGreaterThan(20);
  });

  it.each([
    // By hand.
    [[0, 4, 7], 0, 'C'],
    [[0, 4, 7], 4, 'C/E'],
    [[0, 3, 8], 0, 'Ab/C'],
    [[0, 4, 7, 9], 0, 'C6'],
    [[0, 4, 7, 9], 9, 'Am7'],
    [[0, 4, 10], 0, 'C7(no5)'],
    [[0, 7, 10], 0, 'C7(no3)'],
    [[0, 4], 0, 'C(no5)'],
    [[0, 7], 7, 'C5/G'],
    [[0, 3, 6, 9], 3, 'Ebdim7'],
    [[1, 4, 8, 11], 1, 'C#m7'],
    [[11, 0, 3, 6, 9], 0, 'B7b9/C'],
  ])('%j over %i is %s', (chromas, bass, symbol) => {
    expect(best(chromas, bass).symbol).toBe(symbol);
  });

  it('give what a sound can also be (ambiguities of equal sets)', () => {
    // C6 = Am7, Cm6 = Am7b5, Csus2 = Gsus4, C9 without its root = Em7b5, Cmaj9 without = Em7.
    expect(symbols([0, 4, 7, 9], 0)).toContain('Am7/C');
    expect(symbols([0, 3, 7, 9], 0)).toContain('Am7b5/C');
    expect(symbols([0, 2, 7], 0)).toContain('Gsus4/C');
    expect(symbols([4, 7, 10, 2], 4)).toContain('C9(no1)');
    expect(symbols([4, 7, 11, 2], 4)).toContain('Cmaj9(no1)');
    expect(symbols([0, 3, 6, 9], 0, 4)).toEqual(['Cdim7', 'Ebdim7/C', 'F#dim7/C', 'Adim7/C']);
    expect(symbols([0, 4, 6, 10], 0)).toContain('F#7b5/C');
  });

  it('tell a bass outside of the chord by the slash alone', () => {
    const name = namesOf(pcSetOf([0, 3, 7, 10, 1]), 1).find(({ symbol }) => symbol === 'Cm7/Db');
    expect(name).toMatchObject({ kind: 'minor-seventh', degrees: [], added: ['b9'], missing: [] });
  });

  it('follow the key', () => {
    const key = readKey('Eb');
    if (!key.ok) throw new Error('key');
    const [name] = namesOf(pcSetOf([8, 0, 3]), 8, { key: key.value });
    const [minor] = namesOf(pcSetOf([8, 11, 3]), 8, { key: key.value });
    expect(name && nameText(name.root)).toBe('Ab');
    expect(minor?.symbol).toBe('Abm');
    expect(best([8, 11, 3], 8).symbol).toBe('G#m');
  });

  it('need two tones and a bass among them', () => {
    expect(() => namesOf(pcSetOf([0]), 0)).toThrow('Two pitch classes');
    expect(() => namesOf(pcSetOf([0, 4]), 7)).toThrow('Two pitch classes');
  });
});
