/** `hear` in the terminal, on our own instrument rendered and written as WAV. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { wavBytes } from '$lib/formats/wav';
import { notesOf } from '$lib/playing/schedule';
import { renderNotes } from '$lib/rendering/renderSound';
import { call } from './calling';

const folder = mkdtempSync(join(tmpdir(), 'hear-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** A recording of pitches in semitones. */
function recording(...midis: number[]): string {
  const path = join(folder, `${midis.join('-')}.wav`);
  const { left, right, sampleRate } = renderNotes(
    notesOf(
      midis.map((midi, at) => ({ string: at + 1, midi })),
      'together',
    ).map((note) => ({ ...note, duration: 1.5 })),
    { referenceHz: 440, tail: 0 },
  );
  writeFileSync(path, wavBytes([left, right], sampleRate));
  return path;
}

interface Told {
  readonly strings: readonly Record<string, unknown>[];
  readonly extra: readonly Record<string, unknown>[];
  readonly bar: unknown;
}
const told = async (...words: string[]): Promise<Told> => {
  const said = await call(['hear', ...words, '--json']);
  expect(said.code).toBe(0);
  return JSON.parse(said.out) as Told;
};

it('tells notes that are expected against equal temperament', async () => {
  const { strings, extra, bar } = await told(
    ...['--wav', recording(67.1, 72.06, 64), '--expect', 'G4,C5,B4'],
  );
  expect(strings.map(({ note, midi, sounds, certain }) => [note, midi, sounds, certain])).toEqual([
    ['G4', 67, true, true],
    ['C5', 72, true, true],
    ['B4', 71, false, true],
  ]);
  expect(strings[0]?.['cents']).toBeCloseTo(10, 0);
  expect(strings[1]?.['cents']).toBeCloseTo(6, 0);
  expect(strings[2]).toMatchObject({ cents: null, levelDb: null });
  expect(extra.map(({ note }) => note)).toEqual(['E4']);
  expect(bar).toBeNull();
});

it('tells the strings of a hold, and where the bar lies', async () => {
  // E9 at fret 8: strings 3, 4, 5 are E5, C5, G4; the built-in setup has no targets of its own
  const path = recording(76.08, 72.08, 67.08);
  const { strings, bar } = await told('--wav', path, '--fret', '8', '--strings', '3,4,5');
  expect(strings.map(({ string, note }) => [string, note])).toEqual([
    [3, 'E5'],
    [4, 'C5'],
    [5, 'G4'],
  ]);
  // 610 mm / 2^(8/12) · (1 − 2^(−8/1200)) = 1.77
  expect((bar as { mm: number }).mm).toBeCloseTo(1.77, 1);
  const text = await call(['hear', '--wav', path, '--fret', '8', '--strings', '3,4,5']);
  expect(text.out).toMatch(/The bar lies 1\.[78] mm sharp of its fret/);
  // 1.77 / 25.4 = 0.070
  const us = await call([
    ...['hear', '--wav', path, '--fret', '8', '--strings', '3,4,5'],
    '--units',
    'us',
  ]);
  expect(us.out).toMatch(/The bar lies 0\.0(69|70|71) in sharp of its fret/);
});

it('refuses what is no recording and what are no notes', async () => {
  const path = join(folder, 'no.wav');
  writeFileSync(path, 'no');
  expect(await call(['hear', '--wav', path, '--expect', 'G4'])).toMatchObject({ code: 1 });
  expect(await call(['hear', '--wav', recording(67), '--expect', 'H'])).toMatchObject({ code: 2 });
  expect(await call(['hear', '--wav', join(folder, 'none.wav'), '--expect', 'G4'])).toMatchObject({
    code: 1,
    err: expect.stringContaining('there is no such file') as string,
  });
});
