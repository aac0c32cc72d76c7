/** `rig`: rods, holes and stops in the terminal, the sheet, and the way to another rig. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { hasPoppler, pdfText } from '../formats/poppler';
import { call, json, text } from './calling';

const folder = mkdtempSync(join(tmpdir(), 'gripwright-rig-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});
const file = (name: string, document: object): string => {
  const path = join(folder, name);
  writeFileSync(path, JSON.stringify(document));
  return path;
};
const strings = [
  { open: 'E4', gauge: 0.014 },
  { open: 'B3', gauge: 0.017 },
];
const small = (changer: object, more: object = {}) => ({
  format: 3,
  name: 'Small rig',
  scaleLengthMm: 615.95,
  changer,
  necks: [{ name: 'n', strings }],
  controls: [
    {
      id: 'A',
      station: 'P1',
      turnDegrees: 8,
      travelMm: 20,
      pulls: [{ string: 2, semitones: 2, ...more }],
    },
  ],
});

interface RigJson {
  readonly controls: readonly {
    readonly id: string;
    readonly rods: readonly {
      readonly string: number;
      readonly hole: number;
      readonly crank: number;
      readonly rodMm: number;
      readonly startShare: number;
    }[];
  }[];
  readonly leftOut: readonly { readonly sentence: string }[];
  readonly usual: readonly string[];
}

describe('rig', () => {
  it('gives the hole, the crank and the start that the law of the lever gives by hand', async () => {
    // B3 on .017 up a whole tone is 0.572 mm (worked out apart); 20 mm over 10 mm: 1.1434 mm of the rod; of a crank of
    // 12 mm from 2.5155° to 8° (asin of 0.139173 − 1.1434/12): a share of 0.3144
    const path = file('small.json', small({ raiseHolesMm: [20], crankHolesMm: [12] }));
    const { controls, usual } = await json<RigJson>(['rig', path]);
    const [rod] = controls[0]?.rods ?? [];
    expect(rod).toMatchObject({ string: 2, hole: 1, crank: 1 });
    expect(rod?.rodMm).toBeCloseTo(1.143, 2);
    expect(rod?.startShare).toBeCloseTo(0.314, 2);
    expect(usual).toContain('finger radius');
    expect(usual).not.toContain('raise holes');
  });

  it('says what is usual and what cannot be done, with the cautions', async () => {
    const path = file('few.json', small({ raises: 0 }));
    const told = await text(['rig', '--setup', path]);
    expect(told).toMatch(/String 2 needs 1 raise and 0 lowers; yours has 0 and 2/);
    expect(told).toMatch(
      /A cannot raise string 2 by 2: the string needs 1\s+raise, and its finger has 0/,
    );
    expect(told).toContain('Not entered, and taken as instruments usually have it');
    expect(told).toContain('eye protection');
    expect(told).toContain('qualified instrument technician');
  });

  it('looks for better holes than those told only where it is asked to', async () => {
    const changer = { raiseHolesMm: [16, 28], crankHolesMm: [10, 22] };
    const path = file('told.json', small(changer, { hole: 1, crank: 2 }));
    const rod = async (...more: string[]) =>
      (await json<RigJson>(['rig', path, ...more])).controls[0]?.rods[0];
    expect(await rod()).toMatchObject({ hole: 1, crank: 2 });
    expect((await rod('--free'))?.startShare).toBeLessThan((await rod())?.startShare ?? 0);
  });

  it('tells the way to another rig: rods off and on, strings to buy, in the order of work', async () => {
    const told = await text(['rig', 'e9', '--to', 'universal12']);
    expect(told).toMatch(/rod off +LKV, string 5 /);
    expect(told).toMatch(/rod on +P6, string 8 /);
    expect(told).toContain('To buy: .036w for string 9');
    expect(told.indexOf('Slacken the strings')).toBeLessThan(told.indexOf('Take off these rods'));
    expect(told.indexOf('Take off these rods')).toBeLessThan(told.indexOf('Hook in these'));
  });

  const WORDS = ['Order of work', 'Return springs', 'eye protection', 'raise 3 ('];

  it('draws the rigging sheet, with a sign of the type for all that stands on it', async () => {
    const svg = join(folder, 'sheet.svg');
    const said = await call(['rig', 'e9', '--out', svg]);
    expect(said).toMatchObject({ code: 0, err: '' });
    const drawn = readFileSync(svg, 'utf8');
    for (const wanted of WORDS) expect(drawn).toContain(wanted);
    // what the type has no sign for comes out as an empty box
    expect(drawn).not.toMatch(/[≈→]/u);
  });

  it.runIf(hasPoppler)('draws the way to another rig as PDF', async () => {
    const pdf = join(folder, 'way.pdf');
    const way = ['--to', 'universal12', '--units', 'us', '--paper', 'Letter'];
    expect(await call(['rig', 'e9', '--out', pdf, ...way])).toMatchObject({ code: 0, err: '' });
    const words = pdfText(readFileSync(pdf)).replace(/\s+/g, ' ');
    for (const wanted of [...WORDS, 'To buy', 'rod moved', '1.102 in'])
      expect(words).toContain(wanted);
  });

  it('refuses what makes no sense', async () => {
    expect(await call(['rig', 'e9', '--out', 'x.txt'])).toMatchObject({ code: 2 });
    expect(await call(['rig', 'e9', '--to', 'c6', '--free'])).toMatchObject({ code: 2 });
    expect(await call(['rig', 'nosuch'])).toMatchObject({ code: 1 });
    expect(await text(['rig', 'lap6-c6'])).toContain('nothing to rig');
  });
});

it('suggest keeps to what the changer takes where it is told', async () => {
  interface Found {
    readonly candidates: number;
  }
  const ask = (path: string) =>
    json<Found>([
      'suggest',
      '--setup',
      path,
      '--station',
      'LKL',
      '--strings-up-to',
      '1',
      '--strain',
      'any',
    ]);
  const open = await ask(file('open.json', small({})));
  const taken = await ask(file('taken.json', small({ raises: 1, lowers: 1 })));
  // six pulls a string; string 2 has no raise left, so that three lowers remain
  expect([open.candidates, taken.candidates]).toEqual([12, 9]);
});
