/** `change` and `suggest` as a person or a script calls them. */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { call, callProcess, json, text, type VoicingJson } from './calling';

interface Listed {
  readonly count: number;
  readonly byType: readonly { readonly type: string; readonly count: number }[];
  readonly voicings: readonly (VoicingJson & { readonly chords: readonly string[] })[];
}
type Lists = Readonly<Record<'gained' | 'lost' | 'easier' | 'harder', Listed>>;
interface Suggested {
  readonly candidates: number;
  readonly done: number;
  readonly best: readonly {
    readonly pulls: readonly { neck: number; string: number; semitones: number }[];
    readonly gain: number;
    readonly score: number;
    readonly examples: readonly unknown[];
    readonly byType: readonly { type: string; gain: number }[];
  }[];
}

describe('stations of second banks and of the picking hand', () => {
  it.each(['LKL2', 'RKV2', 'WRIST', 'PALM1'])('take what stands at others: %s', async (station) => {
    // on E9 no control moves string 7; a lever that does gives the same wherever no other is engaged
    const { gained, lost } = await json<Lists>(['change', '--with', `${station}:7+1`]);
    expect(gained.count).toBeGreaterThan(0);
    expect(lost.count).toBe(0);
    const { best, done } = await json<Suggested>([
      ...['suggest', '--station', station, '--strings-up-to', '1', '--limit', '1'],
    ]);
    expect(done).toBeGreaterThan(0);
    expect(best).toHaveLength(1);
  });

  it('are held with what the other limbs hold', async () => {
    const count = async (station: string): Promise<number> =>
      (await json<Lists>(['change', '--with', `${station}:7+1`, '--frets', '0'])).gained.count;
    // a palm lever goes with every knee; a lever of the left knee's second bank with none of its first
    expect(await count('PALM1')).toBeGreaterThan(await count('LKL2'));
  });
});

describe('change', () => {
  it('taken away and put back are the same lists the other way round', async () => {
    const [without, all] = await Promise.all([
      json<Lists>(['change', '--without', 'LKV', '--limit', '3']),
      json<Lists>(['change', '--without', 'LKV', '--limit', '0', '--frets', '0']),
    ]);
    expect(without.gained).toEqual({ count: 0, byType: [], voicings: [] });
    expect(without.lost.count).toBeGreaterThan(0);
    expect(without.lost.voicings).toHaveLength(3);
    // 25 frets, and everything lies at each of them
    expect(without.lost.count).toBe(25 * all.lost.count);
    expect(all.lost.voicings).toHaveLength(all.lost.count);
    // every way of what is lost takes the lever
    for (const { ways } of all.lost.voicings)
      for (const way of ways) expect(way.map(({ id }) => id)).toContain('LKV');
  });

  it('a control put in the place of the same one changes nothing', async () => {
    const same = await json<Lists>(['change', '--with', 'LKV:5-1,10-1']);
    for (const kind of ['gained', 'lost', 'easier', 'harder'] as const)
      expect(same[kind].count).toBe(0);
  });

  it('tells people what is new, and what a control that is there makes possible', async () => {
    const change = await text(['change', '--with', 'RKV:7+1', '--limit', '2']);
    expect(change).toMatch(
      /^“E9, three pedals and five levers”: [\d,]+ easier, [\d,]+ new, 0 lost, /,
    );
    expect(change).toMatch(/^New, with the bar at fret 0/m);
    const lesson = await text(['change', '--learn', 'C', '--fret', '1', '--limit', '3']);
    // F sharp minor of B+C, one fret up (common practice of the trade)
    expect(lesson).toMatch(/^Gm +B\+C +3-4-5, 4-5-6\b/m);
    expect(lesson).toMatch(/^With the bar still: \d+$/m);
    // without a limit the short list alone: half-way the seventh of string 2 goes flat
    const short = await text(['change', '--learn', 'RKR']);
    expect(short).toMatch(/^– +RKR½ +Emaj7 +E7 +2-3-4, 2-3-4-5$/m);
    expect(short).toMatch(/string 2 from 7 to ♭7 \(half-stop\) and 6 and string 9 from ♭7 to 6\./);
    expect(short).not.toMatch(/^With the bar still: \d+$/m);
  });

  it.each([
    [['change'], 2, /--with, --without/],
    [['change', '--with', 'nonsense'], 2, /LKV:5-1,10-1/],
    [['change', '--with', 'LKV:11-1'], 1, /1 to 10/],
    [['change', '--without', 'Z'], 1, /A, B, C/],
    [['change', '--learn', 'Z'], 1, /A, B, C/],
    [['change', '--without', 'A', '--frets', '30'], 1, /0-24/],
    [['change', '--without', 'A', '--frets', 'x'], 2, /0-24/],
    [['suggest'], 2, /--station/],
    [['suggest', '--station', 'nowhere'], 1, /P1/],
    [['suggest', '--station', 'LKV', '--want', 'Hzz'], 1, /--want/],
    [['suggest', '--station', 'LKV', '--strings-up-to', '4'], 2, /1 to 3/],
    [['suggest', '--station', 'LKV', '--must', '11'], 2, /--must/],
    [['suggest', '--station', 'LKV', '--range', '5-1'], 2, /1000-1999/],
    [['suggest', '--station', 'LKV', '--range', '99999-100000'], 1, /26,249/],
    [['suggest', '--station', 'LKV', '--strain', 'none'], 2, /any/],
    [['suggest', '--merge', 'package.json'], 1, /--json/],
  ])('%j ends with %i and a sentence', async (args, code, sentence) => {
    const said = await call(args);
    expect(said.code).toBe(code);
    expect(said.out).toBe('');
    expect(said.err).toMatch(sentence);
  });
});

describe('suggest', () => {
  const station = ['suggest', '--station', 'RKV', '--limit', '5'];
  const small = [...station, '--strings-up-to', '2'];

  it('tries every pull set; threads and one alone find the same', async () => {
    const all = [...station, '--strings-up-to', '3', '--never', '1,2,3'];
    // the threads lie beside the built program
    const whole = await json<Suggested>(all, undefined, callProcess);
    // seven strings: 7 · 6 + 21 · 36 + 35 · 216 = 8,358, shared by threads where there are several
    expect(whole).toMatchObject({ candidates: 8358, done: 8358 });
    const part = await json<Suggested>([...all, '--range', '0-1000']);
    expect(part.done).toBe(1001);
    const scores = whole.best.map(({ score }) => score);
    expect(scores).toEqual([...scores].sort((a, b) => b - a));
    // each tells what one would play with it, as the table does
    for (const { examples } of whole.best) expect(examples).toHaveLength(3);
    const table = await text([...station, '--strings-up-to', '2']);
    expect(table).toMatch(/ E → Edim 4-5-6; E → Em 6-8-10; /);
  });

  it('gives what change gives for the same pulls', async () => {
    const { best } = await json<Suggested>(small);
    const [first] = best;
    const pulls = first?.pulls
      .map(({ string, semitones }) => `${string}${semitones > 0 ? '+' : ''}${semitones}`)
      .join(',');
    const change = await json<{
      gain: number;
      score: number;
      types: readonly { score: number }[];
    }>(['change', '--with', `RKV:${pulls ?? ''}`]);
    expect(change.gain).toBe(first?.gain);
    expect(change.score).toBe(first?.score);
    // the chord types share it
    expect(change.types.reduce((sum, { score }) => sum + score, 0)).toBeCloseTo(change.score, 6);
  });

  it('joins what was printed in parts to the answer of one run, byte for byte', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'gripwright-'));
    const files = await Promise.all(
      ['900-5000', '0-499', '500-899'].map(async (range, number) => {
        const { out } = await call([...small, '--range', range, '--json']);
        const file = join(folder, `${number}.json`);
        writeFileSync(file, out);
        return file;
      }),
    );
    const whole = await call([...small, '--json']);
    expect((await call(['suggest', '--merge', ...files, '--json'])).out).toBe(whole.out);
    const other = join(folder, 'other.json');
    writeFileSync(other, (await call([...small, '--never', '1', '--json'])).out);
    const refused = await call(['suggest', '--merge', files[0] ?? '', other]);
    expect(refused).toMatchObject({ code: 1, out: '' });
    expect(refused.err).toMatch(/another question/);
  });
});
