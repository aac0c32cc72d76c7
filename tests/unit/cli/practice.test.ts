/** `practice` in the terminal: the course of a setup, and today's cards. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { call, json } from './calling';

const folder = mkdtempSync(join(tmpdir(), 'practice-'));
afterAll(() => rmSync(folder, { recursive: true }));

interface Told {
  readonly positions: number;
  readonly course: readonly Readonly<Record<string, unknown>>[];
  readonly today: readonly {
    readonly id: string;
    readonly kind: string;
    readonly isNew: boolean;
  }[];
}

it('lists ten positions and the new cards of a first day', async () => {
  const { code, out } = await call(['practice', '--setup', 'lap6-c6']);
  expect(code).toBe(0);
  expect(out).toMatch(/^\d+ positions to learn on “.+”, ten at a time\.\n/);
  // C6: the open chord of strings 4-5-6, at fret 7 a G
  expect(out).toMatch(/\n {1}1 {2}G\s+7\s+–\s+4-5-6\s+D4 B3 G3\s+0\.00\s+–\s+new\n/);
  expect(out).toContain('Today: 0 cards due, 12 new.');
  expect(out.match(/\nnew {2}/g)).toHaveLength(12);
});

it('knows from a file what was practised', async () => {
  const args = ['practice', '--setup', 'lap6-c6', '--limit', '0'];
  const first = await json<Told>(args);
  expect(first.course).toHaveLength(first.positions);
  expect(first.today).toHaveLength(12);
  expect(first.today.every(({ isNew }) => isNew)).toBe(true);
  const [card] = first.today;
  if (card === undefined) throw new Error('no card');
  // found a year ago, and named
  const yearAgo = Math.floor(Date.now() / 1000) - 365 * 86_400;
  const id = card.id.slice('find/'.length);
  const answers = { [`find/${id}`]: [yearAgo, 3], [`name/${id}`]: [yearAgo, 3] };
  const path = join(folder, 'practice.json');
  writeFileSync(path, JSON.stringify({ format: 1, practice: 'C6', setup: 'lap6-c6', answers }));
  const later = await json<Told>([...args, '--progress', path]);
  expect(later.today.filter(({ isNew }) => !isNew).map((each) => each.id)).toEqual([
    `find/${id}`,
    `name/${id}`,
  ]);
  expect(later.course[0]).toMatchObject({ knowing: 'known', number: 1, near: null });
});

it('refuses a file that is something else', async () => {
  const path = join(folder, 'other.json');
  writeFileSync(path, '[]');
  const { code, err } = await call(['practice', '--progress', path]);
  expect(code).toBe(1);
  expect(err).toMatch(
    /other\.json is not what was practised:\n {2}The file: found something else; allowed is /,
  );
});
