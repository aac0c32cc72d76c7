/** Draws a neck's chart: strings down, controls across, a note and an interval in every cell. */
import {
  FOOT_ROW_MM,
  FURTHER_MM,
  HEAD_MM,
  NOTE_PT,
  ROUNDING_MM,
  SMALL_PT,
  centre,
  rowMmIn,
  type Columns,
  type Span,
} from './benchChartPlaces';
import { box, line, text, type Mark } from './drawing';
import type { Chart, ChartCell, ChartStation, ChartString } from './sheetChart';
import { cut, fittedPt } from './type/setting';

const HEAD_PT = 11;

function headMarks(chart: Chart, columns: Columns, top: number): Mark[] {
  const base = top + HEAD_MM - 2.4;
  const small = (span: Span, words: string): Mark =>
    text(centre(span), base, words, fittedPt(words, SMALL_PT, span.width - 1), {
      align: 'middle',
      grey: true,
    });
  const marks: Mark[] = [
    small(columns.number, 'String'),
    small(columns.open, 'Open'),
    small(columns.gauge, 'Gauge'),
    ...chart.furtherHeadings.flatMap((heading, index) => {
      const span = columns.further[index];
      return span ? [small(span, heading)] : [];
    }),
  ];
  chart.groups.forEach(({ name, stations }, group) => {
    const spans = columns.stations[group] ?? [];
    const [first, last] = [spans[0], spans.at(-1)];
    if (first === undefined || last === undefined) return;
    const end = last.start + last.width;
    const middle = (first.start + end) / 2;
    marks.push(
      text(middle, top + 2.6, name, fittedPt(name, SMALL_PT, end - first.start), {
        align: 'middle',
        grey: true,
      }),
      line([first.start + 0.8, top + 4], [end - 0.8, top + 4], 0.25),
    );
    stations.forEach((station, index) => {
      const span = spans[index];
      if (span) marks.push(...stationHead(station, span, base));
    });
  });
  marks.push(line([columns.number.start, top + HEAD_MM], [columns.right, top + HEAD_MM], 0.4));
  return marks;
}

/** The control's id, and its station where that is another word. */
function stationHead({ id, station }: ChartStation, span: Span, base: number): Mark[] {
  const middle = { align: 'middle' } as const;
  const most = span.width - 1;
  const stationText = text(centre(span), base, station, fittedPt(station, SMALL_PT, most), {
    ...middle,
    grey: true,
  });
  if (id === undefined) return [stationText];
  if (id === station)
    return [
      text(centre(span), base, id, fittedPt(id, HEAD_PT, most, 'bold'), {
        ...middle,
        weight: 'bold',
      }),
    ];
  return [
    text(centre(span), base - 3.4, id, fittedPt(id, HEAD_PT, most, 'bold'), {
      ...middle,
      weight: 'bold',
    }),
    stationText,
  ];
}

function stringMarks(string: ChartString, columns: Columns, middle: number): Mark[] {
  const { number, open, gauge, further } = columns;
  const align = 'middle' as const;
  const base = middle + 1.3;
  const marks: Mark[] = [
    text(centre(number), base, String(string.number), NOTE_PT, { align, weight: 'bold' }),
    text(centre(open), base, string.open, NOTE_PT, { align }),
  ];
  if (string.gauge === '')
    // to be filled in by hand
    marks.push(line([gauge.start + 3, base + 0.6], [gauge.start + gauge.width - 3, base + 0.6]));
  else if (string.wire === '')
    marks.push(text(centre(gauge), base, string.gauge, NOTE_PT, { align }));
  else
    marks.push(
      text(centre(gauge), middle - 0.1, string.gauge, NOTE_PT, { align }),
      text(
        centre(gauge),
        middle + 3,
        string.wire,
        fittedPt(string.wire, SMALL_PT, gauge.width - 1),
        { align, grey: true },
      ),
    );
  for (const [index, words] of string.further.entries()) {
    const span = further[index];
    if (span)
      marks.push(
        text(centre(span), base, words, fittedPt(words, NOTE_PT, span.width - 1), { align }),
      );
  }
  return marks;
}

function cellMarks(cell: ChartCell, span: Span, middle: number): Mark[] {
  const most = span.width - 1.2;
  const align = 'middle' as const;
  const rows = 1 + cell.further.length;
  const first = middle - 0.1 - (FURTHER_MM * (rows - 1)) / 2;
  return [
    text(centre(span), first, cell.note, fittedPt(cell.note, NOTE_PT, most, 'bold'), {
      align,
      weight: 'bold',
    }),
    ...[cell.semitones, ...cell.further].map((words, row) =>
      text(centre(span), first + 3.1 + FURTHER_MM * row, words, fittedPt(words, SMALL_PT, most), {
        align,
        grey: true,
      }),
    ),
  ];
}

/** A row's tint, and hairlines between the controls, so that the eye keeps to its row and column. */
function rowGround(columns: Columns, top: number, height: number, tinted: boolean): Mark[] {
  const { start } = columns.number;
  return [
    ...(tinted ? [box(start, top, columns.right - start, height, 0.055)] : []),
    ...columns.stations.flatMap((spans) =>
      [
        ...spans.map((span) => span.start),
        (spans.at(-1)?.start ?? 0) + (spans.at(-1)?.width ?? 0),
      ].map((x) => line([x, top], [x, top + height], undefined, 0.3)),
    ),
  ];
}

/** What a chart is laid on: filled down to `y`, with room below. */
export interface ChartPage {
  y: number;
  readonly room: number;
  add(...marks: readonly Mark[]): void;
  /** The next page, where so much room is not left. */
  need(mm: number): void;
  turn(): void;
}

/**
 * Lays the chart down, its rows a little lower where it fits on the page by that; where it goes on
 * overleaf, its head is drawn again. `below` are millimetres to leave under it.
 */
export function drawChart(flow: ChartPage, chart: Chart, columns: Columns, below: number): void {
  const height = rowMmIn(chart, flow.room - below);
  const head = (): void => {
    flow.add(...headMarks(chart, columns, flow.y));
    flow.y += HEAD_MM;
  };
  head();
  for (const [index, string] of chart.strings.entries()) {
    if (flow.room < height - ROUNDING_MM) {
      flow.turn();
      head();
    }
    const middle = flow.y + height / 2;
    flow.add(
      ...rowGround(columns, flow.y, height, index % 2 === 1),
      ...stringMarks(string, columns, middle),
    );
    chart.groups.forEach(({ stations }, group) => {
      stations.forEach(({ cells }, at) => {
        const [cell, span] = [cells[index], columns.stations[group]?.[at]];
        if (cell && span) flow.add(...cellMarks(cell, span, middle));
      });
    });
    flow.y += height;
  }
  for (const { heading, texts } of chart.feet) {
    flow.need(FOOT_ROW_MM - ROUNDING_MM);
    const base = flow.y + FOOT_ROW_MM - 1.8;
    const first = columns.stations[0]?.[0]?.start ?? columns.right;
    flow.add(
      line([columns.number.start, flow.y], [columns.right, flow.y], undefined, 0.4),
      text(
        columns.number.start + 1,
        base,
        cut(heading, SMALL_PT, first - columns.number.start - 2),
        SMALL_PT,
        { grey: true },
      ),
    );
    chart.groups.forEach(({ stations }, group) => {
      stations.forEach(({ id }, at) => {
        const [words, span] = [texts.get(id ?? ''), columns.stations[group]?.[at]];
        if (words === undefined || span === undefined) return;
        flow.add(
          text(centre(span), base, words, fittedPt(words, SMALL_PT + 0.5, span.width - 1), {
            align: 'middle',
          }),
        );
      });
    });
    flow.y += FOOT_ROW_MM;
  }
  flow.add(line([columns.number.start, flow.y], [columns.right, flow.y], 0.4));
}
