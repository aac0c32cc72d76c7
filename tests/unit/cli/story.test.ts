/**
 * From free levers and a folder of songs to a rig on paper, at the prompt: every step takes what the one before it gave.
 * The songs are made up.
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { LONG } from '../../seed';
import { call, json } from './calling';
import { MADE_UP_SONGS } from './madeUpSongs';

const folder = mkdtempSync(join(tmpdir(), 'gripwright-story-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

it('leads from two free levers and songs to a rigging sheet and a tuning', async () => {
  mkdirSync(join(folder, 'songs'));
  const songs = LONG ? MADE_UP_SONGS : MADE_UP_SONGS.slice(3, 5);
  songs.forEach((text, at) => {
    writeFileSync(join(folder, 'songs', `song ${at + 1}.txt`), `${text}\n`);
  });
  const done = async (...args: string[]): Promise<string> => {
    const { code, out, err } = await call(args, folder);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    return out;
  };
  // both vertical levers free
  await done('change', '--without', 'LKV', '--limit', '1', '--out', 'today.json');
  // the best pair by the songs, and what it saves
  const { best } = await json<{
    best: {
      controls: { station: string; pulls: { string: number; semitones: number }[] }[];
      saved: number;
      score: number;
    }[];
  }>(
    [
      ...['suggest', '--setup', 'today.json', '--stations', 'LKV,RKV', '--strings-up-to', '1'],
      ...['--songs', 'songs', '--arranged', LONG ? '8' : '2', '--limit', '2'],
      ...(LONG ? [] : ['--never', '1,2,3,4,7,8,9']),
    ],
    folder,
  );
  const [pair] = best;
  expect(pair?.controls.map(({ station }) => station)).toEqual(['LKV', 'RKV']);
  const options = (pair?.controls ?? []).flatMap(({ station, pulls }) => [
    '--with',
    `${station}:${pulls.map(({ string, semitones }) => `${string}${semitones > 0 ? '+' : ''}${semitones}`).join()}`,
  ]);
  // change tells the same saving, song by song, and writes the setup
  const told = await json<{ songs: { saved: number; list: unknown[] } }>(
    [
      ...['change', '--setup', 'today.json', ...options, '--limit', '1'],
      ...['--songs', 'songs', '--out', 'new.json'],
    ],
    folder,
  );
  expect(told.songs.saved).toBeCloseTo(pair?.saved ?? NaN, 9);
  expect(told.songs.list).toHaveLength(songs.length);
  await done('check', 'new.json');
  // each has a name that tells what it has beside the one before
  const nameOf = (file: string): unknown =>
    (JSON.parse(readFileSync(join(folder, file), 'utf8')) as { name: unknown }).name;
  expect(nameOf('today.json')).toBe('E9, three pedals and five levers, without LKV');
  expect(nameOf('new.json')).toBe('E9, three pedals and five levers, without LKV, LKV and RKV');
  // the strings bear it
  const { strings } = await json<{ strings: { string: number }[] }>(
    ['strings', '--setup', 'new.json'],
    folder,
  );
  expect(strings.length).toBeGreaterThanOrEqual(10);
  // the rods, the way from today's rig, and the sheet on paper
  const rig = await json<{ capacity: unknown[] }>(['rig', '--setup', 'new.json'], folder);
  expect(rig.capacity).toHaveLength(10);
  await done('rig', '--setup', 'new.json', '--out', 'rig.pdf');
  expect(readFileSync(join(folder, 'rig.pdf')).subarray(0, 5).toString('latin1')).toBe('%PDF-');
  expect(statSync(join(folder, 'rig.pdf')).size).toBeGreaterThan(10_000);
  // and it can be tuned
  const tuning = await done('tuning', '--setup', 'new.json');
  for (const { station } of pair?.controls ?? []) expect(tuning).toContain(station);
});
