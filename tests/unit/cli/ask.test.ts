/** What counts as a yes at the terminal, as the person who types it would expect. */
import { createInterface } from 'node:readline/promises';
import { PassThrough } from 'node:stream';
import { expect, it } from 'vitest';
import { saysYes } from '../../../src/cli/ask';

async function typed(keys: string): Promise<[yes: boolean, shown: string]> {
  const input = new PassThrough();
  const output = new PassThrough({ encoding: 'utf8' });
  const yes = saysYes(createInterface({ input, output, terminal: true }), 'Overwrite? ');
  input.write(keys);
  return [await yes, String(output.read())];
}

it.each(['y\r', 'yes\r', 'Y\r', ' y \r'])('takes %j for a yes', async (keys) => {
  const [yes, shown] = await typed(keys);
  expect(yes).toBe(true);
  expect(shown).toContain('Overwrite? ');
});

const CTRL_C = '\u0003';
const CTRL_D = '\u0004';
it.each(['\r', 'n\r', 'yet\r', CTRL_C, `y${CTRL_C}`, CTRL_D])(
  'takes %j for a no, and fails over nothing',
  async (keys) => {
    expect((await typed(keys))[0]).toBe(false);
  },
);
