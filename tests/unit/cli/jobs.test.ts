/** `setups`, `check`, `name` as JSON; help; files named from the caller's folder. */
import { copyFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { inRoot } from '../../../scripts/lib/root.mjs';
import { call, json, voicings, type VoicingsJson } from './calling';

const folder = mkdtempSync(join(tmpdir(), 'gripwright-cli-'));
copyFileSync(inRoot('shared/setups/c6.json'), join(folder, 'mine.json'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

interface NameJson {
  readonly notes: string[];
  readonly pitches: number[];
  readonly interval?: string;
  readonly names: { symbol: string; root: string; bass: string; kind: string; missing: string[] }[];
}
const name = (...options: string[]) => json<NameJson>(['name', ...options]);

it('setups lists the built-in ones', async () => {
  const all = await json<{ id: string }[]>(['setups']);
  // the tunings of the trade: strings as listed there; E9 has A, B, C and five levers
  expect(all.find(({ id }) => id === 'e9')).toEqual({
    id: 'e9',
    name: expect.any(String) as string,
    necks: [{ name: 'E9', strings: 10 }],
    controls: 8,
  });
  expect(all.find(({ id }) => id === 'double')).toMatchObject({
    necks: [
      { name: 'E9', strings: 10 },
      { name: 'C6', strings: 10 },
    ],
  });
  expect(all.find(({ id }) => id === 'lap6-c6')).toMatchObject({ controls: 0 });
});

it('check finds nothing wrong with a good file, named either way, or with a built-in one', async () => {
  const good = { ok: true, faults: [] };
  expect(await json(['check', 'mine.json'], folder)).toEqual(good);
  expect(await json(['check', '--setup', 'mine.json'], folder)).toEqual(good);
  expect(await json(['check', '--setup', 'e9'], folder)).toEqual(good);
});

it('name tells notes by string and names, best first', async () => {
  // strings 3, 4, 5 at fret 3 with A and B: G#4 + 1 + 3, E4 + 3, B3 + 2 + 3
  const sound = await name('--fret', '3', '--controls', 'A,B', '--strings', '3,4,5');
  expect(sound).toMatchObject({ notes: ['C5', 'G4', 'E4'], pitches: [72, 67, 64] });
  expect(sound.names[0]).toMatchObject({
    symbol: 'C/E',
    root: 'C',
    bass: 'E',
    kind: 'major',
    degrees: [],
    missing: [],
  });
});

it('name takes half-stops, necks, slants and keys', async () => {
  const [half, neck, slant, sharp, flat, pair] = await Promise.all([
    // D#4 lowered half-way is D4; D3 has no half-stop and stays
    name('--controls', 'RKR:half', '--strings', '2,9'),
    name('--setup', 'double', '--neck', '2', '--strings', '3,4,5,6'),
    // one fret ahead at string 4: E4 + 4, and B3 + 3
    name('--fret', '3', '--slant', '1', '--strings', '4,5'),
    name('--strings', '3', '--key', 'E'),
    name('--strings', '3', '--key', 'Eb'),
    // E4 and G#4: four semitones, E to G
    name('--strings', '3,4'),
  ]);
  expect(half.pitches).toEqual([62, 50]);
  expect(neck.notes).toEqual(['C4', 'A3', 'G3', 'E3']);
  expect(slant.pitches).toEqual([68, 62]);
  // model, section 6: the spelling follows the key
  expect([sharp.notes, flat.notes]).toEqual([['G#4'], ['Ab4']]);
  expect(pair.interval).toBe('major third');
  // all strings where none are named
  expect((await name()).pitches).toEqual([66, 63, 68, 64, 59, 56, 54, 52, 50, 47]);
});

it('reads a setup from the caller’s folder', async () => {
  const args = ['voicings', '--chord', 'C6', '--setup', 'mine.json'];
  const [file, id] = await Promise.all([
    json<VoicingsJson>(args, folder),
    voicings('C6', '--setup', 'c6'),
  ]);
  expect(file).toEqual(id);
});

it.each([[], ['setups'], ['check'], ['voicings'], ['name']])('%s --help', async (...job) => {
  const { code, out, err } = await call([...job.filter(Boolean), '--help']);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  expect(out).toMatch(/^Usage: gripwright/);
});

it('name names notes that are typed, and tells two, a cluster and fourths as what they are', async () => {
  // by hand: root, third, seventh and ninth of C9; third over fifth of C
  const ninth = await name('--notes', 'C4 E4 Bb4 D5');
  expect(ninth.pitches).toEqual([60, 64, 70, 74]);
  expect(ninth.notes).toEqual(['C4', 'E4', 'Bb4', 'D5']);
  expect(ninth.names[0]).toMatchObject({ symbol: 'C9(no5)', missing: ['5'] });
  const sixth = await name('--notes', 'G4 E5');
  expect(sixth).toMatchObject({ interval: 'major sixth', reading: '3 over 5 of C' });
  const cluster = await name('--notes', 'B3 C4 D4');
  expect(cluster.names).toEqual([]);
  expect(cluster.interval).toMatch(/^cluster: B C D/);
  expect((await name('--notes', 'C F Bb Eb')).interval).toMatch(/^stack of fourths/);
});
