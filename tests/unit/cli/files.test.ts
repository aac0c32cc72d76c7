/** The files that the command line reads and writes: whatever is in them, and whatever becomes of them. */
import {
  chmodSync,
  lstatSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { battery } from '../../battery';
import { call } from './calling';

const folder = mkdtempSync(join(tmpdir(), 'gripwright-files-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});
const file = (name: string, content: string | Uint8Array): string => {
  writeFileSync(join(folder, name), content);
  return name;
};

const inFolder = (name: string): string => join(folder, name);

describe('a file that its reader breaks at', () => {
  it('is refused by its name, and is no mistake of the program', async () => {
    file('odd.abc', '1\nT:\nT:');
    const error =
      'odd.abc: found something that cannot be made sense of; allowed is a tune in ABC notation.';
    const plain = await call(['arrange', '--file', 'odd.abc'], folder);
    expect(plain).toEqual({ code: 1, out: '', err: `${error}\n` });
    const json = await call(['arrange', '--file', 'odd.abc', '--json'], folder);
    expect({ ...json, out: JSON.parse(json.out) as unknown }).toMatchObject({
      code: 1,
      out: { error },
    });
  });

  it('and a broken setup has its faults in the document, as check has them', async () => {
    file('bad.json', '{"format":1}');
    const used = await call(['voicings', '--chord', 'C', '--setup', 'bad.json', '--json'], folder);
    const { faults } = JSON.parse(used.out) as { faults: { code: string; path: string }[] };
    expect(faults.map(({ code, path }) => `${code} ${path}`).sort()).toEqual([
      'key.missing controls',
      'key.missing name',
      'key.missing necks',
    ]);
    const check = await call(['check', 'bad.json', '--json'], folder);
    expect(JSON.parse(check.out)).toMatchObject({ ok: false, faults });
  });

  it('of a piece of which nothing can be played is one document with the reason', async () => {
    const said = await call(['arrange', '--chords', 'N.C.', '--json'], folder);
    expect(said.code).toBe(1);
    expect(JSON.parse(said.out)).toMatchObject({
      error: 'There is no chord in it that can be played.',
      ways: [],
    });
  });
});

it('results to be joined whose ranges go backwards are refused with the place', async () => {
  const result = { question: '0123456789abcdef', limit: 5, candidates: 9, done: 3, best: [] };
  file('part.json', JSON.stringify({ ...result, ranges: [[5, 1]] }));
  const { code, out, err } = await call(['suggest', '--merge', 'part.json'], folder);
  expect({ code, out }).toEqual({ code: 1, out: '' });
  expect(err).toContain('the trouble begins at ranges.0');
});

describe('what a terminal would obey', () => {
  // ECMA-48: escape and bell, a control sequence in C1; UAX #9: marks that turn the direction
  const NAME = 'x\u001b[2J\u0007\u009b31m\u202e\u2066y';

  const OBEYED = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/u;
  const setup = file(
    'named.json',
    JSON.stringify({
      format: 1,
      name: NAME,
      necks: [
        { name: NAME.slice(0, 12), strings: [{ open: 'E4' }, { open: 'C4' }, { open: 'G3' }] },
      ],
      controls: [],
    }),
  );

  it.each([
    [['check', setup]],
    [['voicings', '--setup', setup, '--chord', 'C']],
    [['compare', setup, setup]],
    [['strings', '--setup', setup]],
    [['voicings', '--chord', `C${NAME}`]],
    [['check', `${NAME}.json`]],
    [['arrange', '--chords', `C | ${NAME}`]],
    [[`${NAME}`]],
    [['setups', `--${NAME}`]],
  ])('is never printed: %j', async (args) => {
    const { out, err } = await call(args, folder);
    expect(out + err).not.toMatch(OBEYED);
    expect(out + err).not.toBe('');
  });

  it('is in JSON as it is, escaped', async () => {
    const said = await call(['compare', setup, setup, '--json'], folder);
    expect(said.out).not.toMatch(OBEYED);
    expect(JSON.parse(said.out)).toMatchObject({ a: { setup: { name: NAME } } });
  });
});

describe('a file that is written', () => {
  it('takes the place of one that is there', async () => {
    file('old.svg', 'old');
    const said = await call(['sheet', '--out', 'old.svg'], folder);
    expect(said).toMatchObject({ code: 0, err: '' });
    expect(readFileSync(inFolder('old.svg'), 'utf8')).toContain('<svg');
    expect(readdirSync(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  it('keeps the rights of the one before, and what a link leads to', async () => {
    file('shared.txt', 'old');
    chmodSync(inFolder('shared.txt'), 0o640);
    symlinkSync('shared.txt', inFolder('link.txt'));
    await call(['arrange', '--chords', 'C | F', '--out', 'link.txt'], folder);
    expect(lstatSync(inFolder('link.txt')).isSymbolicLink()).toBe(true);
    expect(readFileSync(inFolder('shared.txt'), 'utf8')).not.toBe('old');
    expect(statSync(inFolder('shared.txt')).mode & 0o777).toBe(0o640);
  });

  it('may be no file', async () => {
    symlinkSync('/dev/null', inFolder('null.txt'));
    const said = await call(['arrange', '--chords', 'C | F', '--out', 'null.txt'], folder);
    expect(said).toMatchObject({ code: 0, err: '' });
    expect(lstatSync(inFolder('null.txt')).isSymbolicLink()).toBe(true);
  });

  it('that cannot be written is one document where JSON was asked for', async () => {
    const out = ['--out', 'none/x.txt'];
    const said = await call(['arrange', '--chords', 'C | F', '--json', ...out], folder);
    expect(said.code).toBe(1);
    expect(JSON.parse(said.out)).toEqual({ error: 'none/x.txt: there is no such folder.' });
  });
});

describe('options of one value', () => {
  const SEVERAL = ['--with', '--open', '--merge', '--measures'];
  const VALUES: Readonly<Record<string, string>> = {
    '--method': 'equal',
    '--against': 'just',
    '--seventh': '16/9',
    '--reference': '440',
  };
  const JOBS = [
    'setups',
    'check',
    'voicings',
    'name',
    'coverage',
    'compare',
    'change',
    'suggest',
    'sheet',
    'arrange',
    'strings',
    'tuning',
  ];

  battery('given twice are refused by name', { slice: 12, whole: 1000 }, async ({ of }) => {
    const helps = await Promise.all(JOBS.map((job) => call([job, '--help'])));
    const options = helps.flatMap(({ out }, at) =>
      [...out.matchAll(/^ {2}(--[a-z-]+) </gm)].map(([, option = '']) => [JOBS[at] ?? '', option]),
    );
    expect(options.length).toBeGreaterThan(60);
    for (const [job = '', option = ''] of of(options)) {
      // the first value has to be one that is taken, else that is what is refused
      const value = VALUES[option] ?? '1';
      const { code, out, err } = await call([job, option, value, option, '2']);
      if (SEVERAL.includes(option)) expect(err).not.toContain('more than once');
      else
        expect({ code, out, err }, `${job} ${option}`).toEqual({
          code: 2,
          out: '',
          err: `${option}: found it more than once; allowed is once.\n`,
        });
    }
  });

  it('such as a station', async () => {
    const { code, err } = await call(['suggest', '--station', 'P1', '--station', 'P2']);
    expect({ code, err }).toEqual({
      code: 2,
      err: '--station: found it more than once; allowed is once.\n',
    });
  });
});
