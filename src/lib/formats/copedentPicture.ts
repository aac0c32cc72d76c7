/** The copedent of a neck as a picture: strings down, controls across, as it stands on the bench sheet. */
import { fittedStations } from '$lib/setup/copedent';
import type { Setup } from '$lib/setup/setup';
import { drawChart, type ChartPage } from './benchChart';
import { columnsFor } from './benchChartPlaces';
import { text, type Drawing, type Mark } from './drawing';
import { chartOf } from './sheetChart';
import { cut, fittedPt } from './type/setting';

const EDGE_MM = 7;
const HEAD_MM = 8;
const TITLE_PT = 15;
/** What strings, open notes and gauges take, and what a control and a group of controls do. */
const [FIXED_MM, CONTROL_MM, GROUP_MM] = [48, 17, 3.5];
const LEAST_MM = 110;

/** The picture of the copedent of a neck (1 is the first). */
export function copedentPicture(setup: Setup, neck: number): Drawing {
  const chart = chartOf(setup, neck, {}, fittedStations(setup));
  const controls = chart.groups.reduce((sum, { stations }) => sum + stations.length, 0);
  const right = EDGE_MM + FIXED_MM + GROUP_MM * chart.groups.length + CONTROL_MM * controls;
  const columns = columnsFor([chart], EDGE_MM, right);
  const width = Math.max(LEAST_MM, columns.right + EDGE_MM);
  const title = setup.necks.length > 1 ? `${setup.name} · ${chart.neckName}` : setup.name;
  const room = width - 2 * EDGE_MM;
  const titlePt = Math.max(TITLE_PT / 2, fittedPt(title, TITLE_PT, room, 'bold'));
  const marks: Mark[] = [
    text(EDGE_MM, EDGE_MM + 5, cut(title, titlePt, room, 'bold'), titlePt, { weight: 'bold' }),
  ];
  const page: ChartPage = {
    y: EDGE_MM + HEAD_MM,
    room: Infinity,
    add: (...more) => marks.push(...more),
    need: () => undefined,
    turn: () => undefined,
  };
  drawChart(page, chart, columns, 0);
  return { title, pages: [{ width, height: page.y + EDGE_MM, marks }] };
}
