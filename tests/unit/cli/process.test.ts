/** The command line as a process: its exit code, its two streams, its folder, and pipes that hold much. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { call, callAndLeave, callProcess } from './calling';

const folder = mkdtempSync(join(tmpdir(), 'gripwright-process-'));
writeFileSync(join(folder, 'bad.json'), '{"format":1}');
afterAll(() => {
  rmSync(folder, { recursive: true });
});

it.each([
  ['an answer', 0, ['setups']],
  ['an answer as JSON', 0, ['name', '--fret', '3', '--controls', 'A,B', '--json']],
  ['help', 0, ['voicings', '--help']],
  ['a file that is refused', 1, ['check', 'bad.json']],
  ['a file that is refused, as JSON', 1, ['check', 'bad.json', '--json']],
  ['a symbol that is none', 1, ['voicings', '--chord', 'Hm', '--json']],
  ['a file that cannot be written', 1, ['sheet', '--out', 'none/x.svg']],
  ['no job', 2, []],
  ['an option that is not there', 2, ['setups', '--loud']],
  ['an option twice', 2, ['voicings', '--chord', 'C', '--chord', 'F', '--json']],
] as const)('%s ends with %i, with the same words as without a process', async (_, code, args) => {
  const process = await callProcess(args, folder);
  expect(process.code).toBe(code);
  expect(process).toEqual(await call(args, folder));
  // answers alone go to the one, what is wrong alone to the other
  expect(process.err === '').toBe(code === 0);
  if (!args.some((arg) => arg === '--json')) expect(process.out === '').toBe(code !== 0);
});

it('writes more than a pipe holds, to the end', async () => {
  const { code, out, err } = await callProcess([
    ...['voicings', '--chord', 'C', '--limit', '0', '--json'],
  ]);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  // pipe(7): 65,536 bytes
  expect(out.length).toBeGreaterThan(10 * 65_536);
  const { count, voicings } = JSON.parse(out) as { count: number; voicings: unknown[] };
  expect(voicings).toHaveLength(count);
});

it('does not mind a reader that goes away', async () => {
  const { code, out, err } = await callAndLeave(['voicings', '--chord', 'C', '--limit', '0']);
  expect(out).not.toBe('');
  expect({ code, err }).toEqual({ code: 0, err: '' });
});
