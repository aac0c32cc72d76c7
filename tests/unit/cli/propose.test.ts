/** `propose` as a person or a script calls it. */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { call, json } from './calling';

interface Told {
  readonly exact: boolean;
  readonly starts: number;
  readonly spread: { readonly most: number; readonly least: number };
  readonly score: number;
  readonly controls: readonly string[];
  readonly songs?: { readonly list: readonly { readonly kind: string }[] };
}

const small = [
  ...['propose', '--setup', 'square6-g', '--pedals', '1', '--levers', '1'],
  ...['--strings-up-to', '1', '--starts', '1'],
];

it('proposes a setup that change scores alike, and writes it', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'propose-'));
  const told = await json<Told>([...small, '--out', 'new.json'], folder);
  expect(told).toMatchObject({ exact: false, starts: 1 });
  expect(told.controls).toHaveLength(2);
  const { score } = await json<{ score: number }>(
    [
      ...['change', '--setup', 'square6-g', '--limit', '1'],
      ...told.controls.flatMap((text) => ['--with', text]),
    ],
    folder,
  );
  expect(told.score).toBe(score);
  expect((await call(['check', 'new.json'], folder)).code).toBe(0);
});

it('tells song by song what it does for them, and refuses what cannot be', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'propose-'));
  writeFileSync(join(folder, 'waltz.txt'), 'G | C | D | G');
  const told = await json<Told>([...small, '--songs', 'waltz.txt'], folder);
  expect(told.songs?.list).toHaveLength(1);
  const { code, out } = await call(small, folder);
  expect(code).toBe(0);
  expect(out).toContain('not every setup was tried');
  expect((await call(['propose', '--keep', 'Q'])).err).toContain('--keep: found “Q”');
  expect((await call(['propose', '--pedals', '99'])).code).toBe(1);
});
