import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Chord } from '$lib/theory/chord';
import { readChord } from '$lib/theory/readChord';
import { chromaOfName } from '$lib/theory/pitch';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import { answer } from '$lib/answers/answer';
import { EVEN } from '$lib/effort/weights';
import type { Question } from '$lib/answers/question';
import { runs } from '../battery';
import { smallSetup } from './generators';
import { plainFew, plainSearch, plainSets, type PlainVoicing } from './plainSearch';

const chordOf = (symbol: string): Chord => {
  const read = readChord(symbol);
  if (!read.ok || read.value === 'no chord') throw new Error(symbol);
  return read.value;
};

type Asked = Pick<Question, 'frets' | 'sizes' | 'match'> & { chord: Chord; neck: number };

/** The engine's answer in the plain search's terms. */
function fromEngine(setup: Setup, asked: Asked): PlainVoicing[] {
  const found = answer(setup, {
    ...asked,
    necks: [asked.neck],
    without: [],
    slants: false,
    balance: EVEN,
  });
  return Array.from({ length: found.count }, (_, place) => {
    const { voicing } = found.at(place);
    return {
      fret: voicing.fret,
      strings: voicing.strings,
      pitches: voicing.pitches,
      ways: voicing.ways
        .map((way) =>
          way
            .map(({ id, state }) => (state === 'half' ? `${id}:half` : id))
            .sort()
            .join(' '),
        )
        .sort(),
    };
  });
}

const bassOf = (chord: Chord) =>
  chord.bass === undefined ? {} : { bass: chromaOfName(chord.bass) };

const keyOf = (voicing: PlainVoicing): string =>
  `${voicing.fret}|${voicing.strings.join('-')}|${voicing.pitches.join('-')}`;
const ordered = (voicings: readonly PlainVoicing[]): PlainVoicing[] =>
  [...voicings].sort((a, b) => (keyOf(a) < keyOf(b) ? -1 : 1));

describe('the search agrees, voicing by voicing and way by way, with the plain one', () => {
  const symbols = ['C', 'Gm', 'A7', 'Fmaj7', 'Bm7b5', 'D6', 'Esus4', 'C5', 'Bb9', 'F#13', 'C/E'];

  it('on random small setups', () => {
    fc.assert(
      fc.property(
        smallSetup,
        fc.constantFrom(...symbols),
        fc.constantFrom('complete' as const, 'lean' as const, 'rootless' as const),
        fc.constantFrom<[number, number]>([1, 2], [2, 3], [3, 4], [1, 5]),
        (setup, symbol, match, sizes) => {
          const chord = chordOf(symbol);
          const neck = setup.necks.length;
          const frets: [number, number] = [0, setup.frets];
          const [plain] = plainSearch(setup, { neck, frets, sizes }, [
            { sets: plainSets(chord, match), few: plainFew(chord, match), ...bassOf(chord) },
          ]);
          const engine = fromEngine(setup, { chord, match, sizes, frets, neck });
          expect(ordered(engine)).toEqual(ordered(plain ?? []));
        },
      ),
      { numRuns: runs(150, 3000) },
    );
  });

  const twenty =
    'C Am F#m7 Dmaj7 G7 Bb6 Em6 Csus4 Dsus2 Ab9 Bm7b5 C#dim7 Eaug F7#9 Gmaj9 Am9 D13 Eb6/9 C/E G7/B'.split(
      ' ',
    );

  it.each(['e9', 'c6'] as const)('on %s for twenty chords', (id: BuiltInId) => {
    const setup = builtIn(id);
    const frets: [number, number] = [0, setup.frets];
    const sizes: [number, number] = [3, 4];
    const chords = twenty.map(chordOf);
    const plain = plainSearch(
      setup,
      { neck: 1, frets, sizes },
      chords.map((chord) => ({ sets: plainSets(chord, 'rootless'), ...bassOf(chord) })),
    );
    chords.forEach((chord, number) => {
      const engine = fromEngine(setup, { chord, match: 'rootless', sizes, frets, neck: 1 });
      expect(engine.length, chord.symbol).toBeGreaterThan(0);
      expect(ordered(engine), chord.symbol).toEqual(ordered(plain[number] ?? []));
    });
  });
});
