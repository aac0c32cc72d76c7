/** The files that the command line reads and writes: whatever is in them, and whatever becomes of them. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { call } from './calling';

const folder = mkdtempSync(join(tmpdir(), 'gripwright-files-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});
const file = (name: string, content: string | Uint8Array): string => {
  writeFileSync(join(folder, name), content);
  return name;
};

describe('a file that its reader breaks at', () => {
  it('is refused by its name, and is no mistake of the program', async () => {
    file('odd.abc', '1\nT:\nT:');
    const said = await call(['arrange', '--file', 'odd.abc'], folder);
    expect(said).toEqual({
      code: 1,
      out: '',
      err: 'odd.abc: found something that cannot be made sense of; allowed is a tune in ABC notation.\n',
    });
  });
});
