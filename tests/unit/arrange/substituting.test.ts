/**
 * Substitutions in a piece. What the rules give was written down from the theory first: in C | Dm7 | G7 | C the step
 * from C up to D is filled by C♯°7, A7 is the dominant of Dm7 and D7 that of G7, D♭7 shares B and F with G7, C and Am
 * and Dm7 and Fmaj7 are relatives, and C6/9, Dm11 and G7sus4 can be laid in fourths.
 */
import { describe, expect, it } from 'vitest';
import { arrange } from '$lib/arrange/arrange';
import { readProgression } from '$lib/arrange/readText';
import { substitutionsIn, substitutionsSaid, withSubstitution } from '$lib/arrange/substituting';
import type { Texture, Textures } from '$lib/arrange/texture';
import { noWishes, type Wishes } from '$lib/arrange/wishes';
import { builtIn } from '$lib/setup/builtIns';
import { tuneOf } from './ownTunes';

const E9 = builtIn('e9');
const FREE = noWishes(false);
const pieceOf = (text: string) => {
  const { piece } = readProgression(`key: C\n${text}`);
  if (piece === undefined) throw new Error(text);
  return piece;
};
const PIECE = pieceOf('C | Dm7 | G7 | C');

describe('in C | Dm7 | G7 | C', () => {
  const found = substitutionsIn(E9, PIECE, FREE);

  it('every rule gives what theory says, each at its place', () => {
    const told = found.map(
      ({ measure, rule, chord, part }) =>
        `${measure + 1} ${rule} ${part === 'whole' ? '' : 'then '}${chord.symbol}`,
    );
    expect(told.sort()).toEqual([
      '1 passing diminished then C#dim7',
      '1 quartal C6/9',
      '1 relative Am',
      '1 secondary dominant then A7',
      '2 quartal Dm11',
      '2 relative Fmaj7',
      '2 secondary dominant then D7',
      '3 quartal G7sus4',
      '3 tritone Db7',
      '4 quartal C6/9',
      '4 relative Am',
    ]);
  });

  it('each saves or costs what the best arrangement says of the piece as it would be typed', () => {
    const typed: Readonly<Record<string, string>> = {
      C: 'C | Dm7 | G7 | C',
      'C#dim7': 'C C#dim7 | Dm7 | G7 | C',
      Db7: 'C | Dm7 | Db7 | C',
      D7: 'C | Dm7 D7 | G7 | C',
      Fmaj7: 'C | Fmaj7 | G7 | C',
      G7sus4: 'C | Dm7 | G7sus4 | C',
    };
    const total = (text: string) =>
      arrange(E9, readProgression(`key: C\n${text}`).progression, FREE, 1).ways[0]?.total ?? NaN;
    const before = total(typed.C ?? '');
    for (const [symbol, text] of Object.entries(typed)) {
      const row = found.find(({ chord }) => chord.symbol === symbol);
      if (symbol === 'C') continue;
      expect(row?.before).toBeCloseTo(before, 2);
      expect(row?.after).toBeCloseTo(total(text), 2);
    }
  });

  it('is as before but for the one chord where one is taken', () => {
    const row = found.find(({ chord }) => chord.symbol === 'Db7');
    if (row === undefined) throw new Error('no tritone');
    const taken = withSubstitution(PIECE, row, row);
    const symbols = taken.measures.map(({ chords }) =>
      chords.map(({ chord }) => (chord === 'no chord' ? '' : chord.symbol)),
    );
    expect(symbols).toEqual([['C'], ['Dm7'], ['Db7'], ['C']]);
  });
});

describe('of a tune', () => {
  const tune = tuneOf({ key: 'C', metre: [4, 4], tempo: 100 }, [
    ['C', 'G4:2 E4:2'],
    ['Dm7', 'F4:2 A4:2'],
    ['G7', 'B4:4'],
    ['C', 'C5:4'],
  ]);
  const textures = (texture: Texture, measures: Textures['measures'] = []): Textures => ({
    texture,
    harmony: 'changes',
    measures,
  });
  const listed = (asked: Textures) =>
    substitutionsIn(E9, tune, { ...FREE, textures: asked } satisfies Wishes);

  it('that is played as a line none is listed, and it is said why', () => {
    expect(listed(textures('line'))).toEqual([]);
    expect(substitutionsSaid(tune, textures('line'))).toContain('changes nothing for the hands');
  });

  it('with chords in one measure those are listed that change what is played', () => {
    const mixed = textures('line', [{ from: 3, to: 3, texture: 'chord-melody' }]);
    const rows = listed(mixed);
    expect(rows.some(({ measure }) => measure === 2)).toBe(true);
    for (const { measure, before, after } of rows)
      if (measure !== 2) expect(before).not.toBe(after);
    expect(substitutionsSaid(tune, mixed)).toContain('only substitutions that change');
    expect(substitutionsSaid(tune, textures('chord-melody'))).toBeUndefined();
  });
});
