/** `suggest --stations`: what is printed, joined, kept, stopped and refused. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { call, json } from './calling';

interface Row {
  controls: { station: string; pulls: { neck: number; string: number; semitones: number }[] }[];
  strings: number;
  score: number;
  picks: number[];
  alike: { score: number }[];
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
