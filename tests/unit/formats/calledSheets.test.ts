/**
 * Sheets call notes as the reader does. German: H is B natural, B is B flat, sharps end in -is; syllables: Do is C
 * (any music primer). The open strings of E9 are F♯4 D♯4 G♯4 E4 B3 G♯3 F♯3 E3 D3 B2 (common practice).
 */
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { callNotes } from '$lib/theory/noteNames';
import { afterAll, describe, expect, it } from 'vitest';
import { call } from '../cli/calling';

// what is called last goes on being called so in the same process
afterAll(() => callNotes(() => 'letters'));

const OPEN = {
  german: ['Fis4', 'Dis4', 'Gis4', 'E4', 'H3', 'Gis3', 'Fis3', 'E3', 'D3', 'H2'],
  solfege: ['Fa♯4', 'Re♯4', 'Sol♯4', 'Mi4', 'Si3', 'Sol♯3', 'Fa♯3', 'Mi3', 'Re3', 'Si2'],
} as const;
/** B♭, Gm and F7 */
const CHORDS = { german: ['B', 'Gm', 'F7'], solfege: ['Si♭', 'Solm', 'Fa7'] } as const;
/** A letter with a sharp or a flat behind it: no note is called so in these two. */
const IN_LETTERS = /(?<![\p{L}\d])[A-G][♯♭#]/u;

const folder = mkdtempSync(join(tmpdir(), 'called-'));
const tune = join(folder, 'tune.abc');
writeFileSync(tune, 'X:1\nT:Lantern Road\nM:4/4\nL:1/4\nK:Bb\n"Bb"d2f2|"Gm"g2b2|"F7"a2f2|\n');

/** The texts of what a job draws. */
async function drawn(names: string, ...args: readonly string[]): Promise<string[]> {
  const out = join(folder, 'out.svg');
  const { err, code } = await call([...args, '--names', names, '--out', out]);
  expect([err, code]).toEqual(['', 0]);
  return [...readFileSync(out, 'utf8').matchAll(/<text[^>]*>(.*?)<\/text>/gsu)].map(
    ([, text = '']) => text.replaceAll(/<[^>]+>/gu, ''),
  );
}

describe.each(['german', 'solfege'] as const)('in %s', (names) => {
  it('the bench sheet and the rigging sheet have no note in letters', async () => {
    const sheet = await drawn(names, 'sheet', '--setup', 'e9');
    for (const open of OPEN[names]) expect(sheet).toContain(open);
    // string 5, lowered by LKV
    expect(sheet).toContain(names === 'german' ? 'B' : 'Si♭');
    const rig = await drawn(names, 'rig', '--setup', 'e9');
    expect([...sheet, ...rig].filter((text) => IN_LETTERS.test(text))).toEqual([]);
    // strings 5 and 10 with A and LKV: up two and down one from B
    expect(rig.join(' ')).toContain(names === 'german' ? 'sounds C4' : 'sounds Do4');
  });

  it('tablature, and the staff over it, have none', async () => {
    for (const more of [[], ['--staff']]) {
      const texts = await drawn(names, 'arrange', '--file', tune, '--setup', 'e9', ...more);
      for (const chord of CHORDS[names]) expect(texts).toContain(chord);
      expect(texts.filter((text) => IN_LETTERS.test(text))).toEqual([]);
    }
  });
});
