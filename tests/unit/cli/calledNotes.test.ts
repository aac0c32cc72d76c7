/**
 * Every job reads notes, keys, chords and scales as they are called, and degrees of a key where one is given.
 * German: H is B natural, B is B flat, a small letter is a minor key; syllables: Do is C (any music primer).
 * Each text has a twin in letters that has to be answered alike, in letters (JSON keeps them).
 */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { call } from './calling';

const GERMAN = ['--names', 'german'];
const SYLLABLES = ['--names', 'solfege'];
const FROM = ['--from', '3/A,B/4-5-6'];

const same = async (args: readonly string[], twin: readonly string[]): Promise<void> => {
  const [said, meant] = [await call([...args, '--json']), await call([...twin, '--json'])];
  expect([said.err, said.code]).toEqual(['', 0]);
  expect(said.out).toBe(meant.out);
};

describe('notes as they are called', () => {
  it.each([
    [
      ['next', ...FROM, '--key', 'h', ...GERMAN],
      ['next', ...FROM, '--key', 'Bm'],
    ],
    [
      ['between', ...FROM, '--to', 'H7', '--key', 'E', ...GERMAN],
      ['between', ...FROM, '--to', 'B7', '--key', 'E'],
    ],
    [
      ['between', ...FROM, '--to', 'Fa', '--scale', 'Do major', ...SYLLABLES],
      ['between', ...FROM, '--to', 'F', '--scale', 'C major'],
    ],
    [
      ['scale', '--scale', 'Es mixolydian', ...GERMAN],
      ['scale', '--scale', 'Eb mixolydian'],
    ],
    [
      ['scale', '--scale', 'h-Moll', ...GERMAN],
      ['scale', '--scale', 'B minor'],
    ],
    [
      ['ladder', '--scale', 'Si♭ major', '--frets', '0-12', ...SYLLABLES],
      ['ladder', '--scale', 'Bb major', '--frets', '0-12'],
    ],
  ] as const)('%j is %j', async (args, twin) => {
    await same(args, twin);
  });
});

describe('degrees, where a key is', () => {
  it.each([
    [
      ['voicings', '--chord', 'V7/V', '--key', 'C', '--limit', '3'],
      ['voicings', '--chord', 'D7', '--key', 'C', '--limit', '3'],
    ],
    [
      ['between', ...FROM, '--to', '5', '--key', 'C'],
      ['between', ...FROM, '--to', 'G', '--key', 'C'],
    ],
    [
      ['scale', '--scale', 'V7', '--key', 'C'],
      ['scale', '--scale', 'G7', '--key', 'C'],
    ],
  ] as const)('%j is %j', async (args, twin) => {
    await same(args, twin);
  });

  it('are read in songs and in tunes too', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'degrees-'));
    const [song, tune] = [join(folder, 'a.cho'), join(folder, 'a.abc')];
    writeFileSync(song, '{title: Lantern Road}\n{key: Eb}\n[1]Down the [6-]road we [V7]go\n');
    writeFileSync(tune, 'X:1\nT:Lantern Road\nM:4/4\nL:1/4\nK:G\n"IV"z4|"6-"z4|"V7"z4|\n');
    const chords = async (file: string): Promise<string[]> => {
      const { out } = await call(['arrange', '--file', file, '--json']);
      const { ways } = JSON.parse(out) as {
        ways: { steps: { chord: string }[] }[];
      };
      return ways[0]?.steps.map(({ chord }) => chord) ?? [];
    };
    expect(await chords(song)).toEqual(['Eb', 'Cm', 'Bb7']);
    expect(await chords(tune)).toEqual(['C', 'Em', 'D7']);
  });

  it('stand beside the letters', async () => {
    const { out } = await call(['voicings', '--chord', 'F#m7b5', '--key', 'G', '--limit', '1']);
    expect(out).toMatch(/^F♯m7♭5, viiø7, 7ø⁷ in G: /u);
    // A and B at the nut of E9 make A of strings 3 to 5 (common practice): the fourth degree of E
    const named = ['name', '--controls', 'A,B', '--strings', '3,4,5', '--key', 'E'];
    expect((await call(named)).out).toMatch(/^A\/C♯ +IV\/6, 4\/6 in E/mu);
  });
});
