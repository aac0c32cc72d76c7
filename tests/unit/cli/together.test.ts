/** `suggest --stations`: what is printed, joined, kept, stopped and refused. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { setupFileOf } from '$lib/setup/writeSetup';
import { call, json } from './calling';

interface Row {
  controls: { station: string; pulls: { neck: number; string: number; semitones: number }[] }[];
  strings: number;
  score: number;
  picks: number[];
  alike: { score: number }[];
  near: Row[];
}
interface Result {
  candidates: number;
  done: number;
  units: number;
  ranges: [number, number][];
  skipped: Record<string, number>;
  weighed: number;
  gainTooSmall: number;
  best: Row[];
  frontier: Row[];
  left?: number;
  fold: number;
}

const folder = mkdtempSync(join(tmpdir(), 'gripwright-together-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

const ASKED = ['suggest', '--setup', 'c6', '--stations', 'RKV,P4', '--strings-up-to', '1'];
const withControl = ({ station, pulls }: Row['controls'][number]): string =>
  `${station}:${pulls.map(({ string, semitones }) => `${string}${semitones > 0 ? '+' : ''}${semitones}`).join()}`;
/** All but how many were skipped, which depends on what was known at the time. */
const answerOf = ({ best, frontier, done }: Result) => ({ best, frontier, done });

describe('suggest --stations', () => {
  const whole = json<Result>(ASKED);

  it('scores a choice as change does with all of its controls, and tells each string more', async () => {
    const { best, frontier, candidates, done, skipped, weighed } = await whole;
    expect(best.length).toBeGreaterThan(3);
    for (const row of [...best.slice(0, 2), ...frontier]) {
      const changed = await json<{ score: number }>([
        'change',
        ...['--setup', 'c6', '--limit', '1'],
        ...row.controls.flatMap((each) => ['--with', withControl(each)]),
      ]);
      expect(row.score).toBe(changed.score);
    }
    expect(
      best.every(({ controls }) => controls.map(({ station }) => station).join() === 'RKV,P4'),
    ).toBe(true);
    expect(frontier.map(({ strings }) => strings)).toEqual([1, 2]);
    // every choice is accounted for: one station, the other, and both
    expect(done).toBe(candidates);
    expect(Object.values(skipped).reduce((sum, each) => sum + each, weighed)).toBe(done);
  });

  it('is joined from ranges as from a whole', async () => {
    const { units } = await whole;
    const files = await Promise.all(
      [`0-9`, `10-${units - 1}`].map(async (range, at) => {
        const { code, out } = await call([...ASKED, '--range', range, '--json']);
        expect(code).toBe(0);
        const file = join(folder, `part${at}.json`);
        writeFileSync(file, out);
        return file;
      }),
    );
    const joined = await json<Result>(['suggest', '--merge', ...files]);
    expect(answerOf(joined)).toEqual(answerOf(await whole));
    const twice = await call(['suggest', '--merge', files[0] ?? '', files[0] ?? '']);
    expect(twice).toMatchObject({
      code: 1,
      err: '--merge: two of the files hold the same range.\n',
    });
  });

  it('folds what comes to nearly the same, and loses nothing of it', async () => {
    const { best } = await whole;
    const file = join(folder, 'whole.json');
    writeFileSync(file, JSON.stringify(await whole));
    const merged = ['suggest', '--merge', file, '--fold'];
    const apart = await json<Result>([...merged, '0']);
    expect(apart.best.every(({ near }) => near.length === 0)).toBe(true);
    const folded = await json<Result>([...merged, '30']);
    expect(folded.best.length).toBeLessThan(apart.best.length);
    const all = (rows: Row[]): string[] =>
      rows.flatMap(({ picks, near }) => [picks, ...near.map((each) => each.picks)]).map(String);
    for (const rows of [best, folded.best])
      expect(all(rows).sort()).toEqual(all(apart.best).sort());
    // joined from a file it is folded anew
    writeFileSync(file, JSON.stringify(folded));
    const joined = await json<Result>([...merged, '0']);
    expect(joined.best.map(({ picks }) => picks)).toEqual(apart.best.map(({ picks }) => picks));
    const { out } = await call([...merged, '30']);
    expect(out).toContain('nearly the same: RKV');
    expect(out).toContain('--fold 0 tells each by itself');
  });

  it('keeps to the fingers for both controls together, where the owner told what they take', async () => {
    const asked = ['suggest', '--stations', 'LKV,RKV', '--strings-up-to', '1', '--limit', '0'];
    const free = ['--want', 'C', '--never', '1,2,4,6,7,8,9,10', '--fold', '0', '--strain', 'any'];
    const owned = { ...builtIn('e9'), changer: { raises: 3, lowers: 4 } };
    const file = join(folder, 'told.json');
    // string 5 of this E9 has two raises (A, C) beside LKV: one more, and of two new raises there is no room
    writeFileSync(file, JSON.stringify(setupFileOf(owned)));
    const raised = (rows: Row[]): number =>
      rows.filter(({ controls }) =>
        controls.every(({ pulls }) => pulls[0]?.string === 5 && pulls[0].semitones > 0),
      ).length;
    const open = await json<Result>([...asked, ...free]);
    const told = await json<Result>([...asked, ...free, '--setup', file]);
    expect(raised(open.best)).toBeGreaterThan(0);
    expect(raised(told.best)).toBe(0);
    // nine raises of one beside three of the other
    expect(told.skipped.room).toBe(9);
    expect(open.skipped.room).toBe(0);
  });

  it('goes on from its state, and leaves the state of anything else as it is', async () => {
    const state = join(folder, 'state.json');
    const begun = await json<Result>([...ASKED, '--range', '0-19', '--state', state]);
    expect(begun.ranges).toEqual([[0, 19]]);
    // the rest only: the units that are done are not done again
    const on = await json<Result>([...ASKED, '--state', state]);
    expect(answerOf(on)).toEqual(answerOf(await whole));
    const kept = readFileSync(state, 'utf8');
    const other = await call([...ASKED, '--limit', '3', '--state', state]);
    expect(other.code).toBe(1);
    expect(other.err).toContain('the state of another search');
    expect(readFileSync(state, 'utf8')).toBe(kept);
    writeFileSync(state, kept.replace(/"version":"[^"]*"/, '"version":"older"'));
    const older = await call([...ASKED, '--state', state]);
    expect(older.err).toContain('results of different versions are not joined');
    writeFileSync(state, 'a letter');
    expect((await call([...ASKED, '--state', state])).err).toContain('not the state of a search');
    expect(readFileSync(state, 'utf8')).toBe('a letter');
  });

  it('says what stations it takes', async () => {
    const refused = async (...stations: string[]) =>
      (await call(['suggest', '--stations', stations.join()])).err;
    expect(await refused('RKV')).toBe(
      '--stations: found “RKV”; allowed is 2 or 3 different stations, such as RKV,P4.\n',
    );
    expect(await refused('RKV', 'RKV')).toContain('different stations');
    expect(await refused('RKV', 'nowhere')).toContain('found “nowhere”');
    expect((await call(['suggest', '--station', 'RKV', '--state', 'x'])).err).toContain(
      'it goes with --stations',
    );
  });
});
