import { expect, it } from 'vitest';
import { comparisonChart } from '$lib/formats/comparisonChart';
import type { TextMark } from '$lib/formats/drawing';
import { svgText } from '$lib/formats/svg';

const chart = {
  a: 'Lantern Road & “Sons”',
  b: 'Millpond',
  what: 'voicings of one chord',
  rows: [
    {
      label: '7♯9',
      a: { share: 0.5, text: '120' },
      b: { share: 1, text: '240' },
      stronger: 'b',
      lead: '2.0 ×',
    },
    {
      label: 'aug',
      a: { share: 0, text: '0' },
      b: { share: 0, text: '0' },
      stronger: undefined,
      lead: 'neither',
    },
  ],
} as const;

it('says both names, every type and every number', () => {
  const [page] = comparisonChart(chart).pages;
  const texts = page?.marks.filter((mark): mark is TextMark => mark.kind === 'text') ?? [];
  expect(texts.map(({ text }) => text)).toEqual(
    expect.arrayContaining([chart.a, chart.b, '7♯9', '120', '240', '2.0 ×', 'aug', 'neither']),
  );
});

it('draws bars as long as their numbers say, filled and outlined', () => {
  const [page] = comparisonChart(chart).pages;
  const boxes = page?.marks.flatMap((mark) => (mark.kind === 'box' ? [mark] : [])) ?? [];
  const bars = boxes.filter(({ height, fill }) => height === 3 && fill === 1);
  expect(bars.map(({ width }) => width / (bars[1]?.width ?? 1))).toEqual([0.5, 1, 0, 0]);
  for (const mark of page?.marks ?? [])
    if (mark.kind === 'box') expect(mark.x + mark.width).toBeLessThanOrEqual(page?.width ?? 0);
});

it('is a picture file of its own, with what XML cannot say written otherwise', () => {
  const svg = svgText(comparisonChart(chart));
  expect(svg).toMatch(/^<\?xml/);
  expect(svg).toContain('Lantern Road &amp; “Sons”');
});
