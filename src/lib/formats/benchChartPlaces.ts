/** Where the columns and rows of a neck's chart lie on paper. */
import type { Chart } from './sheetChart';
import { widthMm } from './type/setting';

/** The head of a chart: groups, controls, stations. */
export const HEAD_MM = 15;
const ROW_MM = 8.4;
/** Rows no lower than this still have air between a cell's last line and the next row's note. */
const LEAST_ROW_MM = 7;
/** Every line of a cell below its second. */
export const FURTHER_MM = 3.1;
/** A row below the strings. */
export const FOOT_ROW_MM = 6;
const GROUP_GAP_MM = 3.5;
const MOST_STATION_MM = 21;
/** What sums of heights may be off by. */
export const ROUNDING_MM = 1e-6;
/** Narrower stations than this are hard to read at arm's length. */
export const LEAST_STATION_MM = 11.5;

/** Notes, numbers of strings, gauges. */
export const NOTE_PT = 10.5;
/** What is read second. */
export const SMALL_PT = 8;

/** From the left edge of the paper, in millimetres. */
export interface Span {
  readonly start: number;
  readonly width: number;
}

/** Where the columns lie, in millimetres from the left edge of the paper; one for all necks. */
export interface Columns {
  readonly number: Span;
  readonly open: Span;
  readonly gauge: Span;
  readonly further: readonly Span[];
  /** By group and station. */
  readonly stations: readonly (readonly Span[])[];
  readonly right: number;
}

/** The middle of a span. */
export const centre = ({ start, width }: Span): number => start + width / 2;

/** Columns that suit all necks' charts, between two edges in millimetres from the left of the paper. */
export function columnsFor(charts: readonly Chart[], left: number, right: number): Columns {
  let at = left;
  const take = (width: number): Span => {
    const span = { start: at, width };
    at += width;
    return span;
  };
  const strings = charts.flatMap((chart) => chart.strings);
  const widest = (texts: readonly string[], sizePt: number): number =>
    Math.max(0, ...texts.map((each) => widthMm(each, sizePt)));
  const number = take(11);
  const open = take(13);
  const gauge = take(
    Math.min(
      30,
      6 +
        Math.max(
          9,
          widest(
            strings.map(({ wire }) => wire),
            SMALL_PT,
          ),
        ),
    ),
  );
  const headings = charts[0]?.furtherHeadings ?? [];
  const further = headings.map((heading, index) =>
    take(
      Math.min(
        22,
        4 +
          Math.max(
            widest([heading], SMALL_PT),
            widest(
              strings.map((string) => string.further[index] ?? ''),
              NOTE_PT,
            ),
          ),
      ),
    ),
  );
  const groups = charts[0]?.groups ?? [];
  const count = groups.reduce((sum, group) => sum + group.stations.length, 0);
  const room = right - at - GROUP_GAP_MM * groups.length;
  const width = count === 0 ? 0 : Math.min(MOST_STATION_MM, room / count);
  const stations = groups.map((group) => {
    at += GROUP_GAP_MM;
    return group.stations.map(() => take(width));
  });
  return { number, open, gauge, further, stations, right: at };
}

/** The width that every control gets; infinite where there is none. */
export const stationWidthOf = ({ stations }: Columns): number =>
  stations[0]?.[0]?.width ?? Infinity;

const lineCount = (chart: Chart): number =>
  Math.max(
    0,
    ...chart.groups.flatMap(({ stations }) =>
      stations.flatMap(({ cells }) => cells.map((cell) => cell?.further.length ?? 0)),
    ),
  );

const rowMm = (chart: Chart): number => ROW_MM + FURTHER_MM * lineCount(chart);
const leastRowMm = (chart: Chart): number => LEAST_ROW_MM + FURTHER_MM * lineCount(chart);

/** Everything of a chart but its rows. */
const frameMm = (chart: Chart): number => HEAD_MM + FOOT_ROW_MM * chart.feet.length;

/** The height below which a chart must be torn: its rows as low as they can be read. */
export const leastChartMm = (chart: Chart): number =>
  frameMm(chart) + leastRowMm(chart) * chart.strings.length;

/** The height of a chart's head and its first rows, which are not torn apart. */
export const firstRowsMm = (chart: Chart): number =>
  HEAD_MM + rowMm(chart) * Math.min(2, chart.strings.length);

/** The height of rows in some room: as usual, or lower where the chart fits into the room by that. */
export function rowMmIn(chart: Chart, roomMm: number): number {
  if (leastChartMm(chart) > roomMm) return rowMm(chart);
  return Math.min(rowMm(chart), (roomMm - frameMm(chart)) / chart.strings.length);
}
