/** Songs as the measure in `change`, `compare` and `suggest`: what a player is promised. Songs are made up. */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { withControl } from '$lib/setup/proposal';
import { setupFileOf } from '$lib/setup/writeSetup';
import { call, json } from './calling';

interface Side {
  readonly effort: number | null;
  readonly missing: readonly { readonly measure: number; readonly symbol: string }[];
  readonly arrangement?: { readonly total: number };
}
interface SongsTold {
  readonly songs: {
    readonly effort: Readonly<Record<string, number>>;
    readonly saved: number;
    readonly counts: Readonly<Record<string, number>>;
    readonly list: readonly ({
      readonly name: string;
      readonly weight: number;
      readonly kind: string;
      readonly saved: number | null;
    } & Readonly<Record<'before' | 'after' | 'A' | 'B', Side>>)[];
  };
}

let folder: string;
let songs: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'songs-'));
  songs = join(folder, 'songs');
  mkdirSync(songs);
  writeFileSync(join(songs, 'plain.txt'), 'C | F | G | C\n');
  writeFileSync(join(songs, 'lifted.txt'), 'C | Caug | Am | C\n');
  writeFileSync(
    join(songs, 'sung.cho'),
    '{title: Sung}\n{key: C}\nOn the [C]hill and [G]down a[C]gain\n',
  );
  writeFileSync(join(songs, 'notes to myself.md'), 'buy strings');
  // the lever that lowers A to G sharp, without which no straight or slanted bar of this neck has C E G sharp
  const lever = {
    id: 'LKL',
    station: 'LKL',
    pulls: [{ neck: 1, string: 3, semitones: -1 }],
  } as const;
  const after = withControl(builtIn('lap6-c6'), lever);
  writeFileSync(join(folder, 'after.json'), JSON.stringify(setupFileOf(after)));
});

const total = async (setup: string, file: string): Promise<number> => {
  const { ways } = await json<{ ways: { total: number }[] }>(
    ['arrange', '--setup', setup, '--file', join(songs, file), '--ways', '1', '--slants', 'on'],
    folder,
  );
  return ways[0]?.total ?? NaN;
};

describe('change --songs', () => {
  const asked = [
    'change',
    '--setup',
    'lap6-c6',
    '--with',
    'LKL:3-1',
    '--limit',
    '1',
    '--songs',
    'songs',
  ];

  it('tells first the song that can be played now, and of each what arrange tells', async () => {
    const { songs: told } = await json<SongsTold>([...asked, '--song', 'plain'], folder);
    expect(told.list.map(({ name }) => name).sort()).toEqual(['lifted', 'plain', 'sung']);
    const [first] = told.list;
    expect(first).toMatchObject({
      ...{ name: 'lifted', kind: 'opened', saved: null },
      before: { effort: null, missing: [{ measure: 2, symbol: 'Caug' }] },
      after: { missing: [] },
    });
    expect(first?.after.effort).toBe(await total('after.json', 'lifted.txt'));
    const plain = told.list.find(({ name }) => name === 'plain');
    expect(plain?.before.effort).toBe(await total('lap6-c6', 'plain.txt'));
    expect(plain?.after.effort).toBe(await total('after.json', 'plain.txt'));
    // a lever more takes nothing away
    expect(plain?.saved).toBeGreaterThanOrEqual(0);
    expect(plain?.before.arrangement?.total).toBe(plain?.before.effort);
    expect(told.list.find(({ name }) => name === 'sung')?.before.arrangement).toBeUndefined();
  });

  it('sums what can be played on both by the weights', async () => {
    const { songs: told } = await json<SongsTold>([...asked, '--song-weights', 'plain=3'], folder);
    const of = (name: string) => told.list.find((song) => song.name === name);
    const sum = 3 * (of('plain')?.before.effort ?? NaN) + (of('sung')?.before.effort ?? NaN);
    expect(told.effort['before']).toBeCloseTo(sum, 3);
    expect(told.saved).toBeCloseTo(
      (told.effort['before'] ?? NaN) - (told.effort['after'] ?? NaN),
      3,
    );
  });

  it('writes the arrangements before and after to be seen and heard', async () => {
    const { code } = await call([...asked, '--songs-out', 'written'], folder);
    expect(code).toBe(0);
    for (const side of ['before', 'after'])
      expect(readFileSync(join(folder, `written/plain-${side}.mid`)).toString('latin1', 0, 4)).toBe(
        'MThd',
      );
    expect(readFileSync(join(folder, 'written/plain-after.txt'), 'utf8')).toContain('|');
    // what of it can be played before is there to be heard too
    expect(existsSync(join(folder, 'written/lifted-before.txt'))).toBe(true);
  });

  it('refuses what is no song, and says what it leaves out', async () => {
    writeFileSync(join(folder, 'broken.musicxml'), '<score');
    const broken = await call([...asked.slice(0, -1), 'broken.musicxml'], folder);
    expect(broken.code).toBe(1);
    expect(broken.err).toContain('Left out: broken.musicxml');
    for (const more of [
      ['--song', 'waltz'],
      ['--song-weights', 'waltz=2'],
    ])
      expect((await call([...asked, ...more], folder)).err).toContain('the songs are');
    expect((await call([...asked, '--song-weights', 'plain=0'], folder)).code).toBe(2);
    expect((await call(['change', '--with', 'RKV:5-1', '--song', 'plain'], folder)).code).toBe(2);
  });
});

it('compare --songs tells the two setups by the same songs', async () => {
  const { songs: told } = await json<SongsTold>(
    ['compare', 'lap6-c6', 'after.json', '--limit', '1', '--songs', 'songs'],
    folder,
  );
  const plain = told.list.find(({ name }) => name === 'plain');
  expect(plain?.A.effort).toBe(await total('lap6-c6', 'plain.txt'));
  expect(told.list.some(({ kind, name }) => kind === 'opened' && name === 'lifted')).toBe(true);
});

describe('suggest --songs', () => {
  interface Told {
    readonly done: number;
    readonly arranged: number;
    readonly best: readonly {
      readonly pulls: readonly { neck: number; string: number; semitones: number }[];
      readonly opened: number;
      readonly saved: number;
    }[];
  }
  const asked = ['suggest', '--setup', 'lap6-c6', '--station', 'LKL', '--strings-up-to', '1'];

  it('finds of all pulls of one string those that change finds best', async () => {
    const one = ['--songs', 'songs/lifted.txt', '--must', '3'];
    const { done, arranged, best } = await json<Told>(
      [...asked, ...one, '--arranged', '0'],
      folder,
    );
    // one string by one, two or three semitones either way
    expect(done).toBe(6);
    expect(arranged).toBeLessThanOrEqual(6);
    const [first] = best;
    const [pull] = first?.pulls ?? [];
    expect(first?.opened).toBe(1);
    const text = `LKL:3${(pull?.semitones ?? 0) > 0 ? '+' : ''}${pull?.semitones ?? ''}`;
    const { songs: told } = await json<SongsTold>(
      [
        'change',
        '--setup',
        'lap6-c6',
        '--with',
        text,
        '--limit',
        '1',
        '--songs',
        'songs/lifted.txt',
      ],
      folder,
    );
    expect(told.list[0]?.kind).toBe('opened');
  });

  it('gives each the saving that change gives it', async () => {
    const { best } = await json<Told>(
      [...asked, '--songs', 'songs/plain.txt', '--arranged', '3', '--must', '1'],
      folder,
    );
    expect(best.map(({ saved }) => saved)).toEqual(
      best.map(({ saved }) => saved).sort((a, b) => b - a),
    );
    const [first] = best;
    const [pull] = first?.pulls ?? [];
    const text = `LKL:${pull?.string}${(pull?.semitones ?? 0) > 0 ? '+' : ''}${pull?.semitones}`;
    const { songs: told } = await json<SongsTold>(
      [
        'change',
        '--setup',
        'lap6-c6',
        '--with',
        text,
        '--limit',
        '1',
        '--songs',
        'songs/plain.txt',
      ],
      folder,
    );
    expect(told.saved).toBe(first?.saved);
  });
});
