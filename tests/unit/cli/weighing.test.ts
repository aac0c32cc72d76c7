/** `coverage` and `compare`: JSON as the model has it (section 13), readable tables, refusals. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { call, json, text, voicings, type VoicingJson } from './calling';

interface CoverageJson {
  readonly setup: { name: string; controls: number };
  readonly measures: Record<string, number | null>;
  readonly types: {
    type: string;
    voicings: number;
    byRoot: number[];
    places: number;
    inversions: { degree: string; voicings: number }[];
    tops: { degree: string; voicings: number }[];
    effort: { least: number | null; median: number | null };
  }[];
  readonly pockets: {
    fret: number;
    chords: { symbol: string; match: 'complete' | 'lean' }[];
  }[];
  readonly travel: { averageMm: number | null; between: unknown[] };
  readonly asked: Record<string, unknown>;
}
interface ListJson {
  readonly count: number;
  readonly patterns: number;
  readonly byType: { type: string; count: number }[];
  readonly voicings: (VoicingJson & { symbol: string; other?: VoicingJson })[];
}
type CompareJson = { a: CoverageJson; b: CoverageJson } & Record<
  'onlyA' | 'onlyB' | 'easierA' | 'easierB',
  ListJson
>;

const folder = mkdtempSync(join(tmpdir(), 'gripwright-weigh-'));
const write = (name: string, content: unknown): string => {
  const path = join(folder, name);
  writeFileSync(path, JSON.stringify(content));
  return path;
};
const two = write('two.json', {
  format: 1,
  types: [
    { type: 'maj', weight: 3 },
    { type: 'm7', weight: 1 },
  ],
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

describe('coverage', () => {
  it('counts for each root what `voicings` counts', async () => {
    const [covered, c, fSharp] = await Promise.all([
      json<CoverageJson>(['coverage', '--setup', 'e9', '--repertoire', two]),
      voicings('C', '--limit', '1'),
      voicings('F#m7', '--limit', '1'),
    ]);
    const [major, minor7] = covered.types;
    expect(major?.byRoot[0]).toBe(c.count);
    expect(minor7?.byRoot[6]).toBe(fSharp.count);
    expect(major?.voicings).toBe(major?.byRoot.reduce((sum, each) => sum + each, 0));
    // on E9 nothing has to be pressed for a major chord, and every tone of it can be lowest or on top
    expect(major?.effort.least).toBe(0);
    expect(major?.inversions.map(({ degree }) => degree)).toEqual(['1', '3', '5']);
    expect(major?.tops.map(({ degree }) => degree)).toEqual(['1', '3', '5']);
  });

  it('tells the chords of a key at every fret', async () => {
    const { pockets, asked } = await json<CoverageJson>([
      'coverage',
      '--key',
      'E',
      '--pocket',
      '0',
    ]);
    expect(asked).toMatchObject({ key: 'E', pocket: 0 });
    expect(pockets.map(({ fret }) => fret)).toEqual(Array.from({ length: 25 }, (_, i) => i));
    // the trade: E at fret 0 with nothing pressed, A with A+B, C sharp minor with A
    const open = pockets[0]?.chords.filter(({ match }) => match === 'complete') ?? [];
    expect(open.map(({ symbol }) => symbol)).toEqual(
      expect.arrayContaining(['E', 'A', 'C#m', 'F#m', 'G#m']),
    );
    const wide = await json<CoverageJson>(['coverage', '--key', 'E', '--pocket', '2']);
    wide.pockets.forEach(({ chords }, fret) =>
      expect(chords.length).toBeGreaterThanOrEqual(pockets[fret]?.chords.length ?? 0),
    );
  });

  it('counts only easy voicings where it is asked to', async () => {
    const [all, easy] = await Promise.all([
      json<CoverageJson>(['coverage', '--repertoire', two]),
      json<CoverageJson>(['coverage', '--repertoire', two, '--most-effort', '2']),
    ]);
    easy.types.forEach(({ voicings, effort }, place) => {
      expect(voicings).toBeLessThan(all.types[place]?.voicings ?? 0);
      expect(effort.median).toBeLessThanOrEqual(2);
    });
  });

  it('is readable', async () => {
    const answer = await text(['coverage', '--setup', 'lap6-c6']);
    expect(answer).toContain('17 chord types');
    expect(answer).toMatch(/^major +\d/m);
    expect(answer).toMatch(/^maj7 +0 +0 +– +–$/m);
    // C E G and A C E lie on the open strings; E minor only without its fifth
    expect(answer).toMatch(/^ {3}0 {2}C \(Em\) Am Am7$/m);
  });
});

describe('compare', () => {
  it('tells what only one has and what is easier, with voicings of both', async () => {
    const told = await json<CompareJson>([
      'compare',
      'e9',
      'c6',
      '--repertoire',
      two,
      '--limit',
      '5',
    ]);
    const alone = await json<CoverageJson>(['coverage', '--setup', 'c6', '--repertoire', two]);
    expect(told.b.types).toEqual(alone.types);
    for (const name of ['onlyA', 'onlyB', 'easierA', 'easierB'] as const) {
      const list = told[name];
      expect(list.count).toBe(list.byType.reduce((sum, { count }) => sum + count, 0));
      expect(list.voicings).toHaveLength(5);
      for (const { pitches, effort, other } of list.voicings) {
        expect(other !== undefined).toBe(name.startsWith('easier'));
        if (other === undefined) continue;
        const sorted = (midi: readonly number[]) => [...midi].sort((x, y) => x - y);
        expect(sorted(other.pitches)).toEqual(sorted(pitches));
        expect(effort.total).toBeLessThan(other.effort.total);
      }
    }
    const all = await json<CompareJson>([
      'compare',
      'e9',
      'c6',
      '--repertoire',
      two,
      '--limit',
      '0',
    ]);
    expect(all.onlyA.voicings).toHaveLength(all.onlyA.patterns);
  });

  it('of a setup with itself says so', async () => {
    const told = await json<CompareJson>(['compare', 'e9', 'e9']);
    expect([told.onlyA, told.onlyB, told.easierA, told.easierB].map(({ count }) => count)).toEqual([
      0, 0, 0, 0,
    ]);
    expect(await text(['compare', 'e9', 'e9'])).toContain('They are the same.');
  });

  it('is readable', async () => {
    const answer = await text(['compare', 'e9', 'universal12', '--limit', '3']);
    expect(answer).toMatch(/^A: “.+”\nB: “.+”\n/);
    expect(answer).toMatch(/^Only A .*: [\d,]+ sounds$/m);
    expect(answer).toMatch(/3 of [\d,]+ patterns shown; --limit 0 shows all\./);
  });
});

describe('what is refused', () => {
  const bad = write('bad.json', { format: 1, types: [{ type: 'zz', weight: 0 }] });
  it.each([
    [['coverage', '--key', 'H'], 2, /--key: found “H”/],
    [['coverage', '--pocket', '3'], 2, /--pocket: found “3”; allowed are 0, 1, 2/],
    [['coverage', '--most-effort', 'much'], 2, /--most-effort: found “much”/],
    [['coverage', '--setup', 'none'], 1, /no built-in setup “none”/],
    [['coverage', '--repertoire', 'nowhere.json'], 1, /there is no such file/],
    [
      ['coverage', '--repertoire', bad],
      1,
      /types\[0\]\.weight: found 0; allowed is a number above 0/,
    ],
    [['compare', 'e9'], 2, /missing required argument 'b'/],
    [['compare', 'e9', 'none'], 1, /no built-in setup “none”/],
  ])('%s', async (args, code, sentence) => {
    const said = await call(args);
    expect(said.code).toBe(code);
    expect(said.out).toBe('');
    expect(said.err).toMatch(sentence);
  });
});
