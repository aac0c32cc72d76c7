/** `sheet`: a file is written, and what was written is said. */
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { hasPoppler, pdfText } from '../formats/poppler';
import { call, json } from './calling';

const folder = mkdtempSync(join(tmpdir(), 'gripwright-sheet-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

it('writes SVG, and says in JSON what it wrote', async () => {
  const file = join(folder, 'e9.svg');
  const said = await json<Record<string, unknown>>(['sheet', '--setup', 'e9', '--out', file]);
  expect(said).toEqual({
    file,
    format: 'svg',
    paper: 'A4',
    pages: 1,
    bytes: statSync(file).size,
    setup: 'E9, three pedals and five levers',
  });
  const text = readFileSync(file, 'utf8');
  // the open strings of E9 (tunings of the trade), as text
  for (const open of ['F♯4', 'D♯4', 'G♯4', 'E4', 'B3', 'G♯3', 'F♯3', 'E3', 'D3', 'B2'])
    expect(text).toContain(`>${open}</text>`);
});

it('shows targets that are set, the split’s among them, and a dash where none is', async () => {
  const setup = join(folder, 'tuned.json');
  const strings = [{ open: 'E4', cents: 0 }, { open: 'B3' }];
  const controls = [
    { id: 'A', station: 'P1', pulls: [{ string: 2, semitones: 2, cents: -15.6 }] },
    { id: 'C', station: 'P3', pulls: [{ string: 1, semitones: 2 }] },
    { id: 'V', station: 'LKV', pulls: [{ string: 2, semitones: -1, splitCents: 7.1 }] },
  ];
  const necks = [{ name: 'n', strings }];
  writeFileSync(
    setup,
    JSON.stringify({ format: 2, name: 'Tuned', splitStops: true, necks, controls }),
  );
  const file = join(folder, 'tuned.svg');
  await json(['sheet', '--setup', setup, '--out', file]);
  const texts = [...readFileSync(file, 'utf8').matchAll(/>([^<>]+)<\/text>/g)].map(
    ([, text]) => text,
  );
  expect(texts).toContain('−15.6 c');
  expect(texts).toContain('A+ +7.1 c');
  // string 2 open, and the pulls of C and V, have no target; string 1 has one of nought
  expect(texts.filter((text) => text === '–')).toHaveLength(3);
  expect(texts).toContain('0.0');
  expect(texts).not.toContain('0.0 c');
});

it.skipIf(!hasPoppler)('writes PDF of a file with markup in its name', async () => {
  const setup = join(folder, 'mine.json');
  const name = '<b>Lantern</b> & ♭';
  writeFileSync(
    setup,
    JSON.stringify({
      format: 1,
      name,
      necks: [{ name: 'n', strings: [{ open: 'Eb3' }] }],
      controls: [],
    }),
  );
  const out = join(folder, 'mine.PDF');
  const { code, err } = await call(['sheet', '--setup', setup, '--out', out, '--paper', 'Letter']);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  const text = pdfText(readFileSync(out));
  expect(text).toContain(name);
  expect(text).toContain('E♭3');
});

it.each([
  [['--out', 'sheet.txt'], 2, '.svg or .pdf'],
  [['--out', 'sheet.pdf', '--paper', 'A5'], 2, 'A4, Letter'],
  [[], 2, '--out'],
  [['--out', join(folder, 'none', 'sheet.pdf')], 1, 'no such folder'],
  [['--out', 'sheet.pdf', '--setup', 'e10'], 1, 'no built-in setup'],
] as const)('refuses %j', async (args, wanted, word) => {
  const { code, out, err } = await call(['sheet', ...args], folder);
  expect({ code, out }).toEqual({ code: wanted, out: '' });
  expect(err).toContain(word);
});
