import { ChordType as Dictionary } from 'tonal';
import { describe, expect, it } from 'vitest';
import { CHORD_TYPES, typeWithSet, typeWithSuffix } from '$lib/theory/chordTypes';
import { chromasIn, pcSetOf } from '$lib/theory/pcset';
import { readChord } from '$lib/theory/readChord';
import { decodeKind } from './decodeKind';

/** tonal writes C first: character i of its chroma string is pitch class i. */
const setOf = (chroma: string): number =>
  pcSetOf([...chroma].flatMap((bit, index) => (bit === '1' ? [index] : [])));

const read = (symbol: string): number | undefined => {
  const result = readChord(symbol);
  return result.ok && result.value !== 'no chord' ? result.value.pitchClasses : undefined;
};

/**
 * Types of the library that are no types here, by an alias, each with its reason. What they sound
 * is written in other words.
 */
const LEFT_ASIDE: Readonly<Record<string, string>> = {
  '4': 'quartal chord there; C4 is read as Csus4 here and the set is m7add11 without its fifth',
  '7no5': 'a 7 that leaves out its fifth: 7(no5)',
  '9no5': 'a 9 that leaves out its fifth: 9(no5)',
  '13no5': 'a 13 that leaves out its fifth: 13(no5)',
  alt7: 'a 7b9 that leaves out its fifth: 7b9(no5)',
  M7b6: 'the tones of maj7#5; a maj7b6 that is read here keeps its fifth',
  M7add13: 'the tones of maj13',
  mb6M7: 'a m(maj7) with b6 that leaves out its fifth: m(maj7)b6(no5)',
  mb6b9: 'a minor chord with b6 and b9 that leaves out its fifth',
};

/** Aliases that the reader takes otherwise than tonal 6.4.3, or not at all, each with its reason. */
const OTHERWISE: Readonly<Record<string, string>> = {
  'maj#4': 'maj without a 7 is a triad here; the library means maj7#11',
  M6b5: 'a b5 replaces the fifth',
  '6b5': 'a b5 replaces the fifth',
  '7b5b13': 'a b5 replaces the fifth',
  '9b5b13': 'a b5 replaces the fifth',
  '7b5#9': 'a b5 replaces the fifth',
  '7#9b5': 'a b5 replaces the fifth',
  '7b5b9': 'a b5 replaces the fifth',
  '7b9b5': 'a b5 replaces the fifth',
  '7b5b9b13': 'a b5 replaces the fifth',
  M7b6: 'a b6 is added, and the fifth stays',
  '^7b6': 'a b6 is added, and the fifth stays',
  mb6M7: 'a b6 is added, and the fifth stays',
  mb6b9: 'a b6 is added, and the fifth stays',
  '4': 'sus4, not quartal',
  quartal: 'no chord symbol',
  phryg: 'no chord symbol',
  b9sus: 'Cb9sus is a chord on C flat',
  M7add13: 'no ninth is named',
  m11A: 'an interval in place of a degree; m11#5 is read',
  '7alt': 'any altered fifth and any altered ninth',
  alt7: 'the same as 7alt',
};

describe('chord types', () => {
  it('hold every pitch-class set of the dictionary, but for those left aside', () => {
    const aside = new Set(Object.keys(LEFT_ASIDE));
    const lost = Dictionary.all().filter(
      (entry) => !typeWithSet(setOf(entry.chroma)) && !entry.aliases.some((a) => aside.has(a)),
    );
    expect(lost.map((entry) => entry.aliases.join(' '))).toEqual([]);
  });

  it('are read by every alias of the dictionary, but for those listed with a reason', () => {
    const different: string[] = [];
    for (const entry of Dictionary.all()) {
      for (const alias of entry.aliases) {
        if (read(`C${alias}`) !== setOf(entry.chroma)) different.push(alias);
      }
    }
    expect(different.sort()).toEqual(Object.keys(OTHERWISE).sort());
  });

  it('have one suffix each, which reads back to the same degrees', () => {
    expect(new Set(CHORD_TYPES.map((type) => type.suffix)).size).toBe(CHORD_TYPES.length);
    for (const type of CHORD_TYPES) {
      const result = readChord(`C${type.suffix}`);
      if (!result.ok || result.value === 'no chord') throw new Error(type.suffix);
      expect(result.value.type).toBe(type.suffix);
      expect(result.value.tones.map((tone) => tone.degree)).toEqual(type.degrees);
    }
  });

  it('say the same in MusicXML', () => {
    for (const type of CHORD_TYPES) {
      expect(decodeKind(type.kind, type.kindDegrees), type.suffix).toEqual(chromasIn(type.set));
    }
  });

  it('put the commonest first, in the order of the Billboard counts', () => {
    // 60,247 maj, 14,233 min, 9,676 7, 8,534 min7, 2,768 maj7, 2,309 5 (Burgoyne et al. 2011).
    const first = CHORD_TYPES.slice(0, 6).map((type) => type.suffix);
    expect(first).toEqual(['', 'm', '7', 'm7', 'maj7', '5']);
    expect(CHORD_TYPES.map((type) => type.rank)).toEqual(CHORD_TYPES.map((_, index) => index));
  });

  it('write the kinds that MusicXML has no word for with the fewest degrees', () => {
    // By hand from the schema's rules; an added 7 is minor with alter 0.
    const kind = (suffix: string): unknown => {
      const type = typeWithSuffix(suffix);
      return [
        type?.kind,
        ...(type?.kindDegrees ?? []).map((d) => `${d.type} ${d.value} ${d.alter}`),
      ];
    };
    expect(kind('7sus4')).toEqual(['suspended-fourth', 'add 7 0']);
    expect(kind('maj7sus4')).toEqual(['suspended-fourth', 'add 7 1']);
    expect(kind('6/9')).toEqual(['major-sixth', 'add 9 0']);
    expect(kind('add9')).toEqual(['major', 'add 9 0']);
    expect(kind('7b9')).toEqual(['dominant', 'add 9 -1']);
    expect(kind('maj7#5')).toEqual(['major-seventh', 'alter 5 1']);
    expect(kind('13')).toEqual(['dominant-13th', 'subtract 11 0']);
    expect(kind('9#11')).toEqual(['dominant-ninth', 'add 11 1']);
    expect(kind('m7add11')).toEqual(['minor-seventh', 'add 11 0']);
  });
});
