/** Charts in the terminal: read as setups, and written to be pasted. */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { ensureBundle } from '../../../scripts/lib/build.mjs';
import { call, json, text } from './calling';

const folder = mkdtempSync(join(tmpdir(), 'charts-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const file = (name: string, content: string): string => {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
};

const CHART = `Tuning: F# D# G# E B G# F# E D B
A: 5 +2, 10 +2
F: 4 +1, 8 +1
`;
interface Answer {
  readonly setup: {
    readonly necks: readonly { readonly strings: readonly { readonly open: string }[] }[];
    readonly controls: unknown;
  };
  readonly doubts: readonly {
    readonly where: string;
    readonly found: string;
    readonly read: string;
    readonly choices: readonly string[];
  }[];
}

it('reads a chart, tells what is doubtful, and keeps the setup as a file', async () => {
  const out = join(folder, 'mine.json');
  const answer = await json<Answer>(['read', file('mine.txt', CHART), '--out', out]);
  expect(answer.setup.necks[0]?.strings.map(({ open }) => open).join(' ')).toBe(
    'F#4 D#4 G#4 E4 B3 G#3 F#3 E3 D3 B2',
  );
  expect(answer.setup.controls).toEqual([
    {
      id: 'A',
      station: 'P1',
      pulls: [
        { string: 5, semitones: 2 },
        { string: 10, semitones: 2 },
      ],
    },
    {
      id: 'F',
      station: 'LKL',
      pulls: [
        { string: 4, semitones: 1 },
        { string: 8, semitones: 1 },
      ],
    },
  ]);
  expect(answer.doubts.map(({ where, found }) => `${where}: ${found}`)).toEqual([
    'line 1: open notes without octaves',
    'line 3: F',
  ]);
  expect(answer.doubts[1]?.choices[0]).toMatch(/^LKL/);
  expect((await call(['check', out])).code).toBe(0);
  expect(JSON.parse(readFileSync(out, 'utf8'))).toEqual(answer.setup);
});

it('shows what it read to people, with the doubts under it', async () => {
  const answer = await text(['read', file('mine.txt', CHART)]);
  expect(answer).toMatch(/^String +Note +P1 \(A\) +LKL \(F\)$/m);
  expect(answer).toMatch(/^2 doubts:$/m);
  expect(answer).toMatch(/line 3: found “F”, read as LKL, .+; it could be /);
});

it('reads what is piped in, and writes what can be read', async () => {
  const bundle = await ensureBundle('gripwright');
  for (const form of ['text', 'markdown', 'csv']) {
    const chart = execFileSync(process.execPath, [
      bundle,
      'copedent',
      '--setup',
      'e9',
      '--as',
      form,
    ]);
    const read = spawnSync(process.execPath, [bundle, 'read', '-', '--json'], {
      input: chart,
      encoding: 'utf8',
    });
    expect(read.status).toBe(0);
    expect((JSON.parse(read.stdout) as Answer).doubts).toEqual([]);
  }
});

it('refuses what is no chart with the reason, and wrong usage', async () => {
  const prose = await call(['read', file('prose.txt', 'Nothing to see here.\n'), '--json']);
  expect(prose.code).toBe(1);
  expect((JSON.parse(prose.out) as { error: string }).error).toMatch(
    /found a text in which no strings and controls stand together/,
  );
  expect((await call(['read', join(folder, 'absent.txt')])).code).toBe(1);
  expect((await call(['read'])).code).toBe(2);
  expect((await call(['copedent', '--as', 'words'])).code).toBe(2);
});
