/** The bench sheet: what stands on it, and that everything on it can be read. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { STATIONS, type Setup } from '$lib/setup/setup';
import { benchSheet } from '$lib/formats/benchSheet';
import { PAPERS, PAPER_MM, MM_PER_POINT, type Drawing, type TextMark } from '$lib/formats/drawing';
import { pdfBytes } from '$lib/formats/pdf';
import { chartOf } from '$lib/formats/sheetChart';
import { widthMm } from '$lib/formats/type/setting';
import { runs } from '../../battery';
import { setupOf, smallSetup } from '../../property/generators';
import { hasPoppler, pdfText } from './poppler';

const texts = ({ marks }: Drawing['pages'][number]): TextMark[] =>
  marks.filter((mark) => mark.kind === 'text');
const allText = (drawing: Drawing): string =>
  drawing.pages.flatMap((page) => texts(page).map((mark) => mark.text)).join('\n');

interface Extent {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Where the ink of a text can be: small letters and figures hardly go below a fifth of the size. */
function extentOf({ x, y, text, sizePt, weight, align }: TextMark): Extent {
  const width = widthMm(text, sizePt, weight);
  const left = x - (align === 'end' ? width : align === 'middle' ? width / 2 : 0);
  const em = sizePt * MM_PER_POINT;
  return { text, left, right: left + width, top: y - 0.7 * em, bottom: y + 0.05 * em };
}

function expectReadable(drawing: Drawing, [width, height]: readonly [number, number]): void {
  for (const page of drawing.pages) {
    expect([page.width, page.height].sort((a, b) => a - b)).toEqual([width, height]);
    const extents = texts(page).map(extentOf);
    for (const each of extents) {
      // printers need some millimetres at the edges
      const inside =
        each.left > 8 &&
        each.right < page.width - 8 &&
        each.top > 8 &&
        each.bottom < page.height - 8;
      expect(inside, `“${each.text}” stands on the paper`).toBe(true);
    }
    for (const [index, a] of extents.entries())
      for (const b of extents.slice(index + 1)) {
        const apart =
          a.right <= b.left + 0.01 ||
          b.right <= a.left + 0.01 ||
          a.bottom <= b.top ||
          b.bottom <= a.top;
        if (!apart) expect.fail(`“${a.text}” lies over “${b.text}”`);
      }
  }
}

/** Three necks of fourteen strings, and the twenty controls that a file may have in all groups of stations. */
const LARGEST: Setup = setupOf({
  format: 2,
  name: 'Very long names '.repeat(12).trim(),
  notes: `${'A long story. '.repeat(400)}\n${'x'.repeat(900)}`,
  necks: Array.from({ length: 3 }, (_, neck) => ({
    name: `Neck ${neck + 1} ${'with a long name '.repeat(10).trim()}`,
    strings: Array.from({ length: 14 }, () => ({
      open: 'C#3',
      gauge: 0.0365,
      wound: true,
      coreGauge: 0.016,
      cents: -12.5,
      notes: 'replaced every month',
    })),
  })),
  controls: STATIONS.filter((station) => !/^P([2-8])$/.test(station)).map((station, index) => ({
    id: `CONTR${String(index).padStart(3, '0')}`,
    station,
    pulls: [1, 2, 3].flatMap((neck) =>
      Array.from({ length: 14 }, (_, string) => ({
        neck,
        string: string + 1,
        semitones: -5,
        half: -4,
        cents: -11.5,
      })),
    ),
  })),
});

const EMPTIEST: Setup = setupOf({
  format: 1,
  name: 'x',
  necks: [{ name: 'n', strings: [{ open: 'C3' }] }],
  controls: [],
});

describe('the chart of E9', () => {
  // common practice of the trade: which control moves which string, and the notes that come of it
  const chart = chartOf(builtIn('e9'), 1);
  const stationOf = (id: string) =>
    chart.groups.flatMap(({ stations }) => stations).find((each) => each.id === id);
  const cells = (id: string) =>
    stationOf(id)?.cells.flatMap((cell, index) =>
      cell === undefined ? [] : [`${index + 1}: ${cell.semitones} ${cell.note}`],
    );

  it.each([
    ['A', ['5: +2 C♯', '10: +2 C♯']],
    ['B', ['3: +1 A', '6: +1 A']],
    ['C', ['4: +2 F♯', '5: +2 C♯']],
    ['LKL', ['4: +1 F', '8: +1 F']],
    ['LKR', ['4: −1 D♯', '8: −1 D♯']],
    ['RKR', ['2: −1 / −2 D / C♯', '9: −1 C♯']],
  ])('%s', (id, wanted) => {
    expect(cells(id)).toEqual(wanted);
  });

  it('has its controls at their true stations, and the stations that are free', () => {
    expect(
      chart.groups.map(({ name, stations }) => [
        name,
        stations.map(({ id, station }) => id ?? `(${station})`),
      ]),
    ).toEqual([
      ['Pedals', ['A', 'B', 'C']],
      ['Left knee', ['LKL', 'LKV', 'LKR']],
      ['Right knee', ['RKL', '(RKV)', 'RKR']],
    ]);
  });

  it('lists the strings with their gauges', () => {
    expect(chart.strings.map(({ open, gauge, wire }) => `${open} ${gauge} ${wire}`.trim())).toEqual(
      [
        'F♯4 .013',
        'D♯4 .015',
        'G♯4 .011',
        'E4 .014',
        'B3 .017',
        'G♯3 .020',
        'F♯3 .026 wound',
        'E3 .030 wound',
        'D3 .034 wound',
        'B2 .036 wound',
      ],
    );
  });
});

describe('the sheet', () => {
  it.each(BUILT_IN_IDS.flatMap((id) => PAPERS.map((paper) => [id, paper] as const)))(
    'of %s on %s can be read: everything is on the paper and nothing over something else',
    (id, paper) => {
      expectReadable(benchSheet(builtIn(id), { paper }), PAPER_MM[paper]);
    },
  );

  it.each(PAPERS)('of the largest and of the smallest setup on %s can be read', (paper) => {
    const largest = benchSheet(LARGEST, { paper });
    expectReadable(largest, PAPER_MM[paper]);
    expect(largest.pages.length).toBeGreaterThan(3);
    expect(allText(largest).match(/replaced every month/g)?.length).toBe(3 * 14);
    const smallest = benchSheet(EMPTIEST, { paper });
    expectReadable(smallest, PAPER_MM[paper]);
    expect(smallest.pages.length).toBe(1);
    expect(allText(smallest)).toContain('no pedals or levers');
  });

  it('of any setup can be read', () => {
    fc.assert(
      fc.property(smallSetup, fc.constantFrom(...PAPERS), (setup, paper) => {
        expectReadable(benchSheet(setup, { paper }), PAPER_MM[paper]);
      }),
      { numRuns: runs(40) },
    );
  });

  it('carries the cautions of the trade, once', () => {
    const words = allText(benchSheet(builtIn('double'))).replaceAll('\n', ' ');
    expect(words.match(/eye protection/g)?.length).toBe(1);
    expect(words).toMatch(/break without warning/);
    expect(words).toMatch(/qualified instrument technician/);
    expect(words).not.toMatch(/estimates/);
  });

  it('says what the legs cannot hold, and what they can against the rule', () => {
    const setup = builtIn('e9');
    const reach = {
      ...setup.reach,
      never: [['B', 'C']],
      also: [
        ['A', 'C'],
        ['LKL', 'LKV'],
      ],
    };
    const words = allText(benchSheet({ ...setup, reach }));
    expect(words).toContain('Not engaged together: B+C');
    expect(words).toContain('Held together against the rule: A+C, LKL+LKV');
  });

  it('takes further columns, lines and rows from other parts, and then says what figures are', () => {
    const drawing = benchSheet(builtIn('e9'), {
      extras: {
        strings: [{ heading: 'Target', cells: [{ neck: 1, string: 3, text: '−6.5 ¢' }] }],
        pulls: [
          {
            meaning: 'The third line is the share of the pedal’s travel.',
            cells: [{ control: 'A', neck: 1, string: 5, text: '83 %' }],
          },
        ],
        controls: [{ heading: 'Work', cells: [{ control: 'LKL', text: '0.12 J' }] }],
      },
    });
    expectReadable(drawing, PAPER_MM.A4);
    const words = allText(drawing);
    for (const wanted of [
      'Target',
      '−6.5 ¢',
      '83 %',
      'Work',
      '0.12 J',
      'share of the pedal’s travel',
    ])
      expect(words).toContain(wanted);
    expect(words.replaceAll('\n', ' ')).toMatch(/estimates from handbook values/);
  });

  it.skipIf(!hasPoppler)('prints names with markup as they were typed', () => {
    const setup = { ...builtIn('lap6-c6'), name: '<i>Lantern</i> & “Road” ♯' };
    expect(pdfText(pdfBytes(benchSheet(setup)))).toContain('<i>Lantern</i> & “Road” ♯');
  });
});
