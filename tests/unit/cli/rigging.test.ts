/** `strings` and `tuning`: JSON, tables, cautions, missing and absurd figures. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { call, json, text } from './calling';

const folder = mkdtempSync(join(tmpdir(), 'gripwright-rigging-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

interface StringJson {
  readonly string: number;
  readonly tensionN: number | null;
  readonly shareTop?: number;
  readonly headroomSemitones?: number;
  readonly band?: string;
}
interface TuningJson {
  readonly residualBefore: number[];
  readonly residualAfter: number[];
  readonly targets: { string: number; control: string | null; cents: number; hz: number }[];
}

function setupFile(name: string, strings: readonly object[], controls: readonly object[] = []) {
  const path = join(folder, `${name}.json`);
  const necks = [{ name: 'Neck', strings }];
  writeFileSync(
    path,
    JSON.stringify({ format: 1, name, frets: 12, scaleLengthMm: 609.6, necks, controls }),
  );
  return path;
}

describe('strings', () => {
  it('agrees with the handbook formula: T = (2 L f)² μ', async () => {
    const path = setupFile('one', [{ open: 'G#4', gauge: 0.011 }]);
    const { strings } = await json<{ strings: StringJson[] }>(['strings', '--setup', path]);
    // by hand: f = 415.305 Hz, L = 0.6096 m, steel 7,850 kg/m³, d = 0.2794 mm: μ = 0.4813 g/m
    expect(strings[0]?.tensionN).toBeCloseTo(123.4, 0);
  });
  it('says what is missing where no gauge is told, and gives the rest', async () => {
    const path = setupFile('bare', [{ open: 'G#4' }, { open: 'E4', gauge: 0.014 }]);
    const { strings } = await json<{ strings: StringJson[] }>(['strings', '--setup', path]);
    expect(strings[0]?.tensionN).toBeNull();
    expect(strings[1]?.tensionN).toBeGreaterThan(100);
    expect(await text(['strings', '--setup', path])).toMatch(/gauge/i);
  });
  it('refuses a gauge that no string has, and says which one could', async () => {
    for (const gauge of [0, -0.01, 11, 'thin']) {
      const path = setupFile(`absurd ${gauge}`, [{ open: 'G#4', gauge }]);
      const { code, err } = await call(['strings', '--setup', path]);
      expect(code, String(gauge)).toBe(1);
      expect(err, String(gauge)).toMatch(/gauge.*allowed/s);
    }
  });
  it('calls a pull that breaks its string beyond', async () => {
    const pulls = [{ neck: 1, string: 1, semitones: 4 }];
    const path = setupFile(
      'high',
      [{ open: 'G#4', gauge: 0.012 }],
      [{ id: 'A', station: 'P1', pulls }],
    );
    const { strings } = await json<{ strings: StringJson[] }>(['strings', '--setup', path]);
    expect(strings[0]).toMatchObject({ band: 'beyond' });
    expect(strings[0]?.headroomSemitones).toBeLessThan(0);
  });
  it('warns of strings under tension and defers to makers and technicians', async () => {
    const said = await text(['strings']);
    expect(said).toContain('eye protection');
    expect(said).toMatch(/estimates from handbook values/);
    expect(said).toMatch(/maker’s limits.*qualified instrument technician/);
  });
});

it('strings tells where splits come out, at the targets that the setup says', async () => {
  const strings = [{ open: 'E4' }, { open: 'B3', cents: 2 }];
  const controls = [
    { id: 'A', station: 'P1', pulls: [{ string: 2, semitones: 2, cents: -9.5 }] },
    { id: 'V', station: 'LKV', pulls: [{ string: 2, semitones: -1, cents: 6 }] },
  ];
  const path = setupFile('splits', strings, controls);
  interface Splits {
    readonly splits: { string: number; cents: number }[];
  }
  const { splits } = await json<Splits>(['strings', '--setup', path]);
  // 600·log₂(2^(190.5/600) + 2^(−94/600) − 2^(2/600)) − 100
  expect(splits).toMatchObject([{ string: 2 }]);
  expect(splits[0]?.cents).toBeCloseTo(14.142, 3);
  expect(await text(['strings', '--setup', path])).toContain(
    'String 2 with A and V sounds C4 14.1 cents sharp.',
  );
});

describe('tuning', () => {
  it('in equal temperament leaves every target where it is', async () => {
    const { targets } = await json<TuningJson>(['tuning', '--method', 'equal']);
    expect(targets.length).toBeGreaterThan(20);
    for (const { cents } of targets) expect(cents).toBe(0);
    // E4 at A4 = 440 Hz: 329.628 Hz (ISO 16 and equal temperament)
    expect(targets.find((each) => each.string === 4)?.hz).toBeCloseTo(329.628, 3);
  });
  it('for one major triad gives a pure third and fifth', async () => {
    const path = setupFile(
      'triad',
      ['C4', 'E4', 'G4'].map((open) => ({ open })),
    );
    const { targets, residualAfter } = await json<TuningJson>([
      ...['tuning', '--setup', path, '--chords', 'C', '--method', 'fitted', '--anchor', '1'],
    ]);
    // 5/4 lies 13.686 cents below, 3/2 lies 1.955 cents above their equal-tempered likes
    expect(targets.map(({ cents }) => Number(cents.toFixed(3)))).toEqual([0, -13.686, 1.955]);
    expect(residualAfter[0]).toBeCloseTo(0, 6);
  });
  it('pulled infinitely strongly to equal temperament is equal temperament', async () => {
    const { targets } = await json<TuningJson>(['tuning', '--strength', 'inf']);
    for (const { cents } of targets) expect(cents).toBeCloseTo(0, 9);
  });
  it('says where a split comes out, and which stops could be retuned', async () => {
    // f²(split) = f²(raise) + f²(lower) − f²(open): 600·log₂(2^(1/3) + 2^(−1/6) − 1) = 121.6 cents;
    // the raise would be right at 600·log₂(2^(1/6) + 1 − 2^(−1/6)) = 180.3, the lower at −128.0
    const said = await text(['tuning', '--method', 'equal']);
    expect(said).toMatch(/A\+LKV +5 +C4 +\+21\.6 /);
    expect(said).toContain(
      'String 5 with A and LKV sounds C4 21.6 cents sharp. A 19.7 cents flatter or LKV 28.0 cents flatter',
    );
    interface Splits {
      readonly splits: { string: number; off: number; ownStop: boolean }[];
    }
    const { splits } = await json<Splits>(['tuning', '--method', 'equal']);
    expect(splits.find(({ string }) => string === 10)?.off).toBeCloseTo(21.597, 3);
  });
  it('has a target for the split where the changer has a stop for it', async () => {
    const strings = [{ open: 'E4' }, { open: 'B3' }];
    const controls = [
      { id: 'A', station: 'P1', pulls: [{ string: 2, semitones: 2 }] },
      { id: 'V', station: 'LKV', pulls: [{ string: 2, semitones: -1, splitCents: -5 }] },
    ];
    const path = join(folder, 'split.json');
    const file = { format: 2, name: 'split', splitStops: true, necks: [{ name: 'N', strings }] };
    writeFileSync(path, JSON.stringify({ ...file, controls }));
    const asked = ['tuning', '--setup', path, '--method', 'saved'];
    const { targets } = await json<TuningJson>(asked);
    expect(targets.at(-1)).toMatchObject({ string: 2, control: 'V', raisedBy: 'A', cents: -5 });
    expect(await text(asked)).toMatch(/A\+V +2 +C4 +−5\.0 +260\.87/);
  });
  it('marks what no chord decides, with what it was given', async () => {
    const said = await text(['tuning', '--method', 'just', '--chords', 'C']);
    expect(said).toMatch(/LKV +5 +B♭3 +0\.0 +\d+\.\d\d +undecided: equal temperament/);
    expect(said).toMatch(/\nC +5 +C♯4 +−15\.6 +\d+\.\d\d +undecided: as string 5 with A/);
    expect(said).toMatch(/\nA +5 +C♯4 +−15\.6 +\d+\.\d\d\n/);
    interface Decided {
      readonly targets: { string: number; control: string | null; decided: boolean }[];
    }
    const { targets } = await json<Decided>(['tuning', '--method', 'just', '--chords', 'C']);
    const decided = (control: string | null): boolean[] =>
      targets.filter((each) => each.control === control).map((each) => each.decided);
    expect(decided('LKV')).toEqual([false, false]);
    expect(decided('A')).toEqual([true, true]);
  });
  it('takes any reference pitch', async () => {
    const { targets } = await json<TuningJson>([
      'tuning',
      '--method',
      'equal',
      '--reference',
      '442',
    ]);
    expect(targets.find((each) => each.string === 4)?.hz).toBeCloseTo((329.6276 * 442) / 440, 3);
  });
});

describe('a change and a comparison', () => {
  const tight = () =>
    setupFile(
      'tight',
      [{ open: 'G#4', gauge: 0.011 }],
      [{ id: 'A', station: 'P1', pulls: [{ neck: 1, string: 1, semitones: 4 }] }],
    );
  it('say which string would not bear it, with the caution', async () => {
    const said = await text(['change', '--with', 'LKV:3+3']);
    expect(said).toMatch(/String 3 \(G♯4, \.011\) raised to B4 stands at 1\d\d %/);
    expect(said).toMatch(/maker’s limits/);
    const { strings } = await json<{ strings: StringJson[] }>(['change', '--with', 'LKV:3+3']);
    expect(strings).toMatchObject([{ string: 3, band: 'beyond' }]);
    expect(await text(['change', '--with', 'LKV:5-1'])).not.toContain('maker’s limits');
  });
  it('name the setup whose string it is', async () => {
    const compared = await json<{ strings: Record<'a' | 'b', StringJson[]> }>([
      ...['compare', 'e9', tight()],
    ]);
    expect(compared.strings.a).toEqual([]);
    expect(compared.strings.b).toMatchObject([{ string: 1, band: 'beyond' }]);
  });
});

describe('strings, in JSON and in words', () => {
  interface Told {
    readonly wear: {
      string: number;
      rank: number;
      reserve: number;
      times?: number;
      reason: string;
    }[];
    readonly controls: {
      readonly id: string;
      readonly effortN?: number;
      readonly effort: {
        readonly totalN: number;
        readonly measured: boolean;
        readonly terms?: Readonly<Record<string, number>> & { readonly usual: readonly string[] };
      } | null;
    }[];
  }

  it('say what the mean effort holds, and keep the strings’ share where it was', async () => {
    const { controls } = await json<Told>(['strings', '--travel', '30']);
    const a = controls.find(({ id }) => id === 'A');
    // 129.0 mJ over 30 mm; worked out by hand in `tests/unit/strings/effort.test.ts`
    expect(a?.effortN).toBeCloseTo(4.3, 2);
    expect(a?.effort?.terms?.['stringsN']).toBe(a?.effortN);
    expect(a?.effort?.totalN).toBeCloseTo(14.72, 2);
    expect(a?.effort?.terms?.usual).toEqual(['slack', 'springs', 'friction']);
    const said = await text(['strings', '--travel', '30']);
    expect(said).toMatch(/A .* 14\.7 N  strings 4\.3, slack 0\.5, springs 7\.0, friction 2\.9/);
    expect(said).toMatch(/values of common practice, no measures of your instrument/);
    const needs = 'Mean effort needs the travel of a control';
    expect(said).not.toContain(needs);
    expect(await text(['strings'])).toContain(needs);
    expect((await json<Told>(['strings'])).controls.map(({ effort }) => effort)).toContain(null);
  });

  it('speak and take pounds and inches where US units are chosen; JSON stays in newtons and millimetres', async () => {
    // by hand: 30 mm are 30 ÷ 25.4 = 1.181102 in; 14.7 N ÷ 4.448222 = 3.3 lb
    const us = ['strings', '--units', 'us', '--travel', '1.181102'];
    const said = await text(us);
    expect(said).toMatch(/A .* 3\.31 lb {2}strings 0\.97,/);
    expect(said).toMatch(/, 24\.\d{3} in, A4/);
    expect(said.split('Mean effort is')[0]?.split('Which breaks first')[0]).not.toMatch(
      /\d (N|mm)\b/,
    );
    const { controls, strings } = await json<Told & { strings: unknown }>(us);
    expect(controls.find(({ id }) => id === 'A')?.effort?.totalN).toBeCloseTo(14.72, 1);
    expect(strings).toEqual((await json<{ strings: unknown }>(['strings'])).strings);
    // 20 lb are 89.0 N and 34 lb 151.2 N: what suits is the same as for those
    const suits = async (...asked: string[]): Promise<unknown> =>
      await json(['strings', '--suit', ...asked]);
    expect(await suits('--units', 'us', '--tension', '20-34')).toEqual(
      await suits('--tension', '88.964432-151.239535'),
    );
  });

  it('say which breaks first, and why', async () => {
    const { wear } = await json<Told>(['strings']);
    expect(wear.map(({ rank }) => rank)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    // common practice of the trade, from memory: the G♯ of an E9 neck breaks first
    expect(wear[0]).toMatchObject({ string: 3, times: 1 });
    expect(wear.at(-1)?.reason).toMatch(/^No control pulls it/);
    const said = await text(['strings']);
    expect(said).toMatch(/Which breaks first\n\n.*why\n +1 +3 +G♯4 .*Raised to A4 it has 14 % /);
    expect(said).toMatch(/common practice, from memory.*maker’s limits/s);
  });

  it('take what was measured, and refuse what cannot be', async () => {
    const control = (facts: object) => [
      { id: 'A', station: 'PALM1', pulls: [{ string: 1, semitones: 1 }], ...facts },
    ];
    const write = (name: string, facts: object): string => {
      const path = setupFile(name, [{ open: 'G#4', gauge: 0.011 }], control(facts));
      const file = JSON.parse(readFileSync(path, 'utf8')) as object;
      writeFileSync(path, JSON.stringify({ ...file, format: 2 }));
      return path;
    };
    const { controls } = await json<Told>([
      ...['strings', '--setup', write('measured', { forceN: 12, travelMm: 10, slackMm: 1 })],
    ]);
    expect(controls[0]?.effort).toMatchObject({ totalN: 12, measured: true });
    expect(controls[0]?.effort?.terms?.['springsN']).toBe(4);
    const refused = await call(['strings', '--setup', write('slack', { travelMm: 3, slackMm: 3 })]);
    expect(refused).toMatchObject({ code: 1 });
    expect(refused.err).toContain('less than the travel of 3 mm');
  });
});
