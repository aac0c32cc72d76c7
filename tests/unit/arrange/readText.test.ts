/** What people type, and what is taken from it; expectations by the rules told in `readText`. */
import { describe, expect, it } from 'vitest';
import { melodyNoteText, withMelody } from '$lib/arrange/melody';
import { BOUNDS, stepsOf, type Progression } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { pieceOf } from '$lib/arrange/pieceOf';
import { writePiece } from '$lib/arrange/writeText';

/** `C Am7:E4 | N.C.` with shares as dots: bars as plain text. */
const barsOf = ({ bars }: Progression): string[] =>
  bars.map(({ slots }) =>
    slots
      .map(({ chord, share, melody }) => {
        const symbol = chord === 'no chord' ? 'N.C.' : chord.symbol;
        const note = melody === undefined ? '' : `:${melodyNoteText(melody)}`;
        return symbol + note + ' .'.repeat(share - 1);
      })
      .join(' '),
  );
const read = (text: string) => {
  const { progression, faults } = readProgression(text);
  return { progression, faults, bars: barsOf(progression) };
};
/** Bars of a text that has no fault. */
const good = (text: string): string[] => {
  const { bars, faults } = read(text);
  expect(faults).toEqual([]);
  return bars;
};

describe('bars', () => {
  it('stand between bar lines, with or without lines at the ends', () => {
    const bars = ['C', 'Am7', 'Dm7 G7', 'C'];
    expect(good('C | Am7 | Dm7 G7 | C')).toEqual(bars);
    expect(good('| C | Am7 | Dm7 G7 | C |')).toEqual(bars);
    expect(good('|C|Am7|Dm7 G7||C|]')).toEqual(bars);
    expect(good('C | Am7 |\r\n  Dm7 G7 | C\r\n')).toEqual(bars);
  });

  it('are shared equally by their chords, and a chord can be held on', () => {
    expect(good('C . . G7 | F / C /')).toEqual(['C . . G7', 'F . C .']);
    const steps = stepsOf(readProgression('C . . G7 | F / C /').progression);
    expect(steps.map(({ start, length }) => [start, length])).toEqual([
      [0, 0.75],
      [0.75, 0.25],
      [1, 0.5],
      [1.5, 0.5],
    ]);
  });

  it('repeat the bar before at %, and the chord before among chords', () => {
    expect(good('C G7:B3 | % | Am % F')).toEqual(['C G7:B3', 'C G7:B3', 'Am Am F']);
  });

  it('are played again between repeat signs', () => {
    expect(good('|: C | F :| G')).toEqual(['C', 'F', 'C', 'F', 'G']);
    expect(good('C |: F :|x3 G7 :|')).toEqual(['C', 'F', 'F', 'F', 'G7', 'G7']);
    expect(good('[A]\n|: C |\nF :|')).toEqual(['C', 'F', 'C', 'F']);
  });

  it('can hold no chord', () => {
    expect(good('N.C. | n.c. C | NC')).toEqual(['N.C.', 'N.C. C', 'N.C.']);
  });

  it('take chords as they are usually written', () => {
    expect(good('C-7 | F♯ø | BbΔ7 | C7(b9 #11) | G/B | C6/9')).toEqual([
      'Cm7',
      'F#m7b5',
      'Bbmaj7',
      'C7b9#11',
      'G/B',
      'C6/9',
    ]);
  });
});

describe('what stands above and between the chords', () => {
  it('is a head, sections and remarks', () => {
    const { progression, faults } = read(
      '# for the second set\ntitle: Evening: a waltz\nkey: Eb\ntempo: 92\nmetre: 3/4\n\n[Verse]\nEb | Bb7 [Turn] Ab\n',
    );
    expect(faults).toEqual([]);
    expect(progression).toMatchObject({
      title: 'Evening: a waltz',
      key: { tonic: { letter: 'E', alter: -1 }, mode: 'major' },
      tempo: 92,
      metre: { beats: 3, unit: 4 },
    });
    expect(progression.bars.map(({ section }) => section)).toEqual(['Verse', undefined, 'Turn']);
  });

  it.each([
    ['key: H', 'line 1, place 6', '“H”'],
    ['tempo: fast', 'line 1, place 8', '“fast”'],
    ['tempo: 4000', 'line 1, place 8', '“4000”'],
    ['metre: 4/5', 'line 1, place 8', '“4/5”'],
    ['[Verse\nC', 'line 1, place 1', '“[Verse”'],
  ])('is a fault where it makes no sense: %s', (text, where, found) => {
    const { faults } = read(`${text}\nC`);
    expect(faults[0]).toMatchObject({ where, found });
  });
});

describe('a melody', () => {
  it('stands behind its chord, with an octave or without', () => {
    expect(good('C:E4 | Am7:C | G/B:Bb3 .')).toEqual(['C:E4', 'Am7:C', 'G/B:Bb3 .']);
  });

  it('stands below its chords, one note for each or bar by bar', () => {
    expect(good('C | Am7 | Dm7 G7\nmelody: E4 - F4 B3')).toEqual(['C:E4', 'Am7', 'Dm7:F4 G7:B3']);
    expect(good('C | Am7 | Dm7 G7 |\nmelody: | E4 | | - B3 |')).toEqual([
      'C:E4',
      'Am7',
      'Dm7 G7:B3',
    ]);
  });

  it('belongs to the line above it', () => {
    expect(good('C\nmelody: E4\nF\nmelody: A')).toEqual(['C:E4', 'F:A']);
  });

  it('can come as a text of its own', () => {
    const { progression } = readProgression('C | Dm7 G7');
    const { progression: sung, faults } = withMelody(progression, 'E4 F4 G4 A4');
    expect(barsOf(sung)).toEqual(['C:E4', 'Dm7:F4 G7:G4']);
    expect(faults).toMatchObject([{ where: 'melody, place 10', found: '“A4”' }]);
    expect(barsOf(progression)).toEqual(['C', 'Dm7 G7']);
    const odd = withMelody(progression, 'E4 | F4 H4 | A4');
    expect(odd.faults.map(({ found }) => found)).toEqual(['“H4”', '“A4”']);
    expect(barsOf(odd.progression)).toEqual(['C:E4', 'Dm7:F4 G7']);
  });

  it('that cannot be read is told, and its chord is taken', () => {
    const { bars, faults } = read('C:H4 | F\nmelody: - - - G4');
    expect(bars).toEqual(['C', 'F']);
    expect(faults.map(({ where, found }) => [where, found])).toEqual([
      ['line 1, place 3', '“H4”'],
      ['line 2, place 13', '“- G4”'],
    ]);
    expect(read('melody: E4').faults).toMatchObject([{ found: 'a melody' }]);
  });
});

describe('what cannot be read', () => {
  it('is told with its place, and leaves its time empty', () => {
    const text = 'C | Am7 Xyz | Gq7 F';
    const { bars, faults } = read(text);
    expect(bars).toEqual(['C', 'Am7 N.C.', 'N.C. F']);
    expect(faults.map(({ where, slot }) => [where, slot])).toEqual([
      ['line 1, place 9', { bar: 1, slot: 1 }],
      ['line 1, place 16', { bar: 2, slot: 0 }],
    ]);
    expect(faults.map(({ mark }) => text.slice(mark?.at).charAt(0))).toEqual(['X', 'q']);
  });

  it.each(['', ' \n\n', '# only a remark', '| |', '||'])(
    'is said of a text without chords: “%s”',
    (text) => {
      const { progression, faults } = read(text);
      expect(progression.bars).toEqual([]);
      expect(faults).toHaveLength(1);
    },
  );

  it.each([
    ['% | C', '“%”'],
    ['. C', '“.”'],
    ['C | | F', 'an empty measure'],
  ])('is a sign with nothing to go by: %s', (text, found) => {
    const { bars, faults } = read(text);
    expect(faults).toMatchObject([{ found }]);
    expect(bars.at(-1)).toMatch(/^[CF]$/);
  });

  it('is what goes beyond a thousand chords, in one line or by repeats', () => {
    const long = read(Array.from({ length: 10_000 }, () => 'C').join(' | '));
    expect(long.bars).toHaveLength(BOUNDS.slots);
    expect(long.faults).toMatchObject([{ where: 'line 1, place 4001', found: 'more chords' }]);
    const again = read('|: C | F :|x999999999');
    expect(again.bars).toHaveLength(BOUNDS.slots);
    expect(again.faults).toHaveLength(1);
  });
});

describe('writing', () => {
  it('gives a text that reads back to the same piece', () => {
    const text =
      'title: Evening\nkey: Gm\ntempo: 92\nmetre: 3/4\n[Verse]\nGm:G4 . F#7 | N.C. | Eb/G | D7:A\nGm\n[End]\nGm\n';
    expect(writePiece(pieceOf(readProgression(text).progression))).toBe(text);
  });
  it('names common parts of a bar once', () => {
    expect(writePiece(pieceOf(readProgression('C . F .').progression))).toBe('C F\n');
  });
});
