/** A file of an answer on a disk that is full, and one that is there already. */
import fs, { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeEach, expect, it, vi } from 'vitest';
import { writeOut } from '../../../src/cli/files';
import { Refusal } from '../../../src/cli/out';
import { callingAt } from '../../../src/cli/terminal';

/** A disk that is full, as write(2) and fsync(2) tell it. */
function fillDisk(): void {
  vi.spyOn(fs, 'fsyncSync').mockImplementation(() => {
    throw Object.assign(new Error('no space'), { code: 'ENOSPC' });
  });
  syncBuiltinESMExports();
}

const folder = mkdtempSync(join(tmpdir(), 'gripwright-writing-'));
const path = join(folder, 'song.txt');
beforeEach(() => {
  const nobody = { write: () => true, writable: true };
  callingAt({ out: nobody, err: nobody, folder, asks: false });
});
afterEach(() => {
  vi.restoreAllMocks();
  syncBuiltinESMExports();
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

const NEW = new TextEncoder().encode('new');
const yes = (): Promise<boolean> => Promise.resolve(true);
const held = (): [string, string[]] => [readFileSync(path, 'utf8'), readdirSync(folder)];

it('leaves the old file as it was where the disk is full, and says so', async () => {
  writeFileSync(path, 'old');
  fillDisk();
  await expect(writeOut(path, NEW, yes)).rejects.toThrow(
    new Refusal(`${path}: the disk is full.`, 1),
  );
  expect(held()).toEqual(['old', ['song.txt']]);
});

it('asks before it overwrites, and takes no for an answer', async () => {
  writeFileSync(path, 'old');
  const ask = vi.fn(() => Promise.resolve(false));
  await expect(writeOut(path, NEW, ask)).rejects.toThrow('stays as it is');
  expect(ask).toHaveBeenCalledExactlyOnceWith(`${path} is there already. Overwrite it? (y/N) `);
  expect(held()).toEqual(['old', ['song.txt']]);
  await writeOut(path, NEW, yes);
  expect(held()).toEqual(['new', ['song.txt']]);
});

it('asks nobody where there is no file yet', async () => {
  rmSync(path);
  const ask = vi.fn(yes);
  await writeOut(path, NEW, ask);
  expect(ask).not.toHaveBeenCalled();
  expect(held()).toEqual(['new', ['song.txt']]);
});
