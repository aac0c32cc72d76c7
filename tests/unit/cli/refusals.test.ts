/** What cannot be done, or is asked wrongly: exit codes of the model's section 13. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { inRoot } from '../../../scripts/lib/root.mjs';
import { BROKEN } from '../setup/invalidSetups';
import { call } from './calling';

const folder = mkdtempSync(join(tmpdir(), 'gripwright-cli-'));
mkdirSync(join(folder, 'sub'));
writeFileSync(join(folder, 'latin.json'), Buffer.from([0x7b, 0xe9, 0x7d]));
writeFileSync(join(folder, 'bad.json'), '{');
writeFileSync(join(folder, 'huge.json'), Buffer.alloc(50_000_000, ' '));
afterAll(() => {
  rmSync(folder, { recursive: true });
});
writeFileSync(
  join(folder, 'never.json'),
  JSON.stringify({
    format: 1,
    name: 'A and B never together',
    reach: { never: [['A', 'B']] },
    necks: [{ name: 'n', strings: [{ open: 'E4' }, { open: 'B3' }] }],
    controls: ['P1', 'P2'].map((station, place) => ({
      id: 'AB'[place],
      station,
      pulls: [{ string: place + 1, semitones: 1 }],
    })),
  }),
);
const invalid = (file: string) => inRoot('shared/setups/invalid', `${file}.json`);
const C = ['voicings', '--chord', 'C'];

type Case = readonly [args: readonly string[], word: string];
const IMPOSSIBLE: readonly Case[] = [
  [['check', 'none.json'], 'no such file'],
  [['check', 'sub'], 'folder'],
  [['check', 'latin.json'], 'UTF-8'],
  [['check', 'bad.json'], 'not JSON'],
  [['check', 'huge.json'], '50 megabytes'],
  [[...C, '--setup', 'none.json'], 'no such file'],
  [[...C, '--setup', './sub'], 'folder'],
  [[...C, '--setup', 'latin.json'], 'UTF-8'],
  [[...C, '--setup', 'e10'], 'e9'],
  [[...C, '--setup', invalid('format-newer')], 'newer'],
  [['voicings', '--chord', 'Hm'], 'Bm'],
  [['voicings', '--chord', 'Cmaj7q'], '“q” at place 6'],
  [['voicings', '--chord', 'N.C.'], '--chord'],
  [['voicings', '--chord', ''], 'no chord'],
  [[...C, '--neck', '2'], '--neck'],
  [[...C, '--frets', '0-25'], '0-24'],
  [[...C, '--frets', '5-3'], '--frets'],
  [[...C, '--home', '25'], '--home'],
  [[...C, '--sizes', '0-3'], '1-6'],
  [[...C, '--grip', '3,11'], '1-10'],
  [[...C, '--without', 'Z'], 'LKL'],
  [['name', '--setup', 'never.json', '--controls', 'A,B'], 'A and B are never engaged together'],
  [['name', '--neck', '2'], 'only 1'],
  [['name', '--fret', '25'], '24'],
  [['name', '--strings', '11'], '1-10'],
  [['name', '--strings', '3,3'], 'once'],
  [['name', '--controls', 'Z'], 'LKL'],
  [['name', '--controls', 'A:half'], 'half-stop'],
  [['name', '--controls', 'A,C'], 'neighbours'],
  [['name', '--controls', 'A,B,C'], 'at most 2'],
  [['name', '--controls', 'LKL,LKR'], 'left knee'],
  [['name', '--controls', 'LKL,LKV'], 'sideways'],
  [['name', '--slant', '1', '--strings', '3,4'], '--slant'],
];
const WRONG: readonly Case[] = [
  [[], 'Usage'],
  [['sing'], 'sing'],
  [['setups', '--loud'], '--loud'],
  [['setups', 'more'], 'too many'],
  [['check'], 'missing'],
  [['check', 'bad.json', '--setup', 'e9'], 'one of them'],
  [['voicings'], '--chord'],
  [['voicings', '--chord'], 'missing'],
  [[...C, '--limit', 'x'], 'whole number'],
  [[...C, '--limit', '-1'], 'whole number'],
  [[...C, '--limit', '2.5'], 'whole number'],
  [[...C, '--neck', 'x'], '--neck'],
  [[...C, '--frets', 'a-b'], '--frets'],
  [[...C, '--home', 'x'], '--home'],
  [[...C, '--sizes', '3-'], '--sizes'],
  [[...C, '--grip', 'x'], '--grip'],
  [[...C, '--match', 'loose'], 'rootless'],
  [[...C, '--top', 'H4'], '--top'],
  [[...C, '--bass', '3'], '--bass'],
  [[...C, '--slants', 'maybe'], 'on or off'],
  [[...C, '--balance', 'arms=2'], 'picking'],
  [['name', '--fret', 'x'], 'whole number'],
  [['name', '--fret', '-1'], 'whole number'],
  [['name', '--neck', 'x'], 'whole number'],
  [['name', '--strings', 'x'], '3,4,5'],
  [['name', '--slant', '3'], '-2'],
  [['name', '--key', 'H'], '--key'],
];
const cases = [
  ...IMPOSSIBLE.map(([args, word]) => ({ code: 1, args, word })),
  ...WRONG.map(([args, word]) => ({ code: 2, args, word })),
];

it.concurrent.for(cases)('$code: $args', async ({ code, args, word }, { expect }) => {
  const said = await call(args, folder);
  expect(said).toMatchObject({ code, out: '' });
  expect(said.err).toContain(word);
  expect(said.err).not.toMatch(/^ {4}at |mistake in Gripwright/m);
  // where JSON was asked for, a refusal is the same, and one document that tells it
  const [job = '', ...options] = args;
  if (job === '') return;
  const json = await call([job, '--json', ...options], folder);
  expect({ code: json.code, err: json.err }).toEqual({ code: said.code, err: said.err });
  const { error } = JSON.parse(json.out) as { error: string };
  expect(error).not.toBe('');
  expect(said.err.startsWith(error), error).toBe(true);
});

it('names every fault of a broken setup, as text and as JSON', async () => {
  const paths = BROKEN.find(({ file }) => file === 'many-faults')?.paths ?? [];
  expect(paths).toHaveLength(16);
  const file = invalid('many-faults');
  const [check, document, used] = await Promise.all([
    call(['check', file]),
    call(['check', file, '--json']),
    call([...C, '--setup', file, '--json']),
  ]);
  for (const { code, err } of [check, document, used]) {
    expect(code).toBe(1);
    for (const path of paths) expect(err).toContain(`\n  ${path}: found `);
  }
  expect(check.out).toBe('');
  const { ok, faults } = JSON.parse(document.out) as { ok: boolean; faults: { path: string }[] };
  expect(ok).toBe(false);
  expect(JSON.parse(used.out)).toMatchObject({ faults });
  expect(faults.map(({ path }) => path).sort()).toEqual(paths);
  for (const fault of faults)
    expect(Object.keys(fault).sort()).toEqual(['allowed', 'code', 'found', 'path']);
});
