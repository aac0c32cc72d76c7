/** `strings` and `tuning`: JSON, tables, cautions, missing and absurd figures. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
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
      ...['tuning', '--setup', path, '--chords', 'C', '--method', 'sweet', '--anchor', '1'],
    ]);
    // 5/4 lies 13.686 cents below, 3/2 lies 1.955 cents above their equal-tempered likes
    expect(targets.map(({ cents }) => Number(cents.toFixed(3)))).toEqual([0, -13.686, 1.955]);
    expect(residualAfter[0]).toBeCloseTo(0, 6);
  });
  it('pulled infinitely strongly to equal temperament is equal temperament', async () => {
    const { targets } = await json<TuningJson>(['tuning', '--strength', 'inf']);
    for (const { cents } of targets) expect(cents).toBeCloseTo(0, 9);
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
