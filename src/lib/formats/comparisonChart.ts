/** The chart of a comparison for paper: two bars a chord type on one axis, filled and outlined. */
import { box, line, text, type Drawing, type Mark } from './drawing';
import { cut, widthMm } from './type/setting';

export interface PaperBar {
  /** 0 … 1 of the longest bar. */
  readonly share: number;
  readonly text: string;
}

export interface PaperRow {
  readonly label: string;
  readonly a: PaperBar;
  readonly b: PaperBar;
  readonly stronger: 'a' | 'b' | undefined;
  readonly lead: string;
}

export interface PaperChart {
  /** The names of both setups, in full. */
  readonly a: string;
  readonly b: string;
  /** What the bars are long for. */
  readonly what: string;
  readonly rows: readonly PaperRow[];
}

const WIDTH_MM = 180;
const EDGE_MM = 8;
const LABEL_MM = 24;
const LEAD_MM = 24;
const NUMBER_MM = 14;
const ROW_MM = 9;
const BAR_MM = 3;
const SIGN_MM = 2.6;
const TITLE_PT = 13;
const TEXT_PT = 10;
const SMALL_PT = 8.5;

/** A box that is filled for the first setup and outlined for the second. */
const sideBox = (side: 'a' | 'b', x: number, y: number, width: number, height: number): Mark[] => [
  box(x, y, width, height),
  ...(side === 'b' && width > 0.7 ? [box(x + 0.35, y + 0.35, width - 0.7, height - 0.7, 0)] : []),
];

/** One page, as tall as the chart. */
export function comparisonChart(chart: PaperChart): Drawing {
  const { rows } = chart;
  const right = WIDTH_MM - EDGE_MM;
  const axis = EDGE_MM + LABEL_MM;
  const longest = right - LEAD_MM - NUMBER_MM - axis;
  const marks: Mark[] = [];
  let y = EDGE_MM + 5;
  marks.push(text(EDGE_MM, y, `By chord type: ${chart.what}`, TITLE_PT, { weight: 'bold' }));
  for (const side of ['a', 'b'] as const) {
    y += 6.5;
    marks.push(...sideBox(side, EDGE_MM, y - SIGN_MM, SIGN_MM, SIGN_MM));
    const name = cut(chart[side], TEXT_PT, right - EDGE_MM - 5);
    marks.push(text(EDGE_MM + 4.5, y, name, TEXT_PT));
  }
  y += 5;
  const top = y;
  for (const row of rows) {
    marks.push(line([EDGE_MM, y], [right, y], 0.15, 0.3));
    marks.push(
      text(EDGE_MM, y + 5.6, cut(row.label, TEXT_PT, LABEL_MM - 2, 'bold'), TEXT_PT, {
        weight: 'bold',
      }),
    );
    for (const [side, barY] of [
      ['a', y + 1.2],
      ['b', y + 4.8],
    ] as const) {
      const width = longest * row[side].share;
      marks.push(...sideBox(side, axis, barY, width, BAR_MM));
      marks.push(text(axis + width + 1.5, barY + 2.6, row[side].text, SMALL_PT));
    }
    const lead = right - widthMm(row.lead, TEXT_PT, 'bold');
    marks.push(text(right, y + 5.6, row.lead, TEXT_PT, { weight: 'bold', align: 'end' }));
    if (row.stronger !== undefined)
      marks.push(...sideBox(row.stronger, lead - 4, y + 5.6 - SIGN_MM, SIGN_MM, SIGN_MM));
    y += ROW_MM;
  }
  marks.push(line([EDGE_MM, y], [right, y], 0.15, 0.3));
  marks.push(line([axis, top], [axis, y], 0.4));
  return {
    title: `${chart.a} and ${chart.b}: ${chart.what}`,
    pages: [{ width: WIDTH_MM, height: y + EDGE_MM, marks }],
  };
}
