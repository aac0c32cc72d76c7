/**
 * The bench sheet: a setup on paper, to lie beside the instrument while it is rigged and tuned. Title,
 * a chart a neck, what the notes say, what to take care of, and room to write.
 */
import { fittedStations } from '$lib/setup/copedent';
import type { Setup, Station } from '$lib/setup/setup';
import { lengthText, type Units } from '$lib/strings/units';
import { drawChart } from './benchChart';
import {
  LEAST_STATION_MM,
  columnsFor,
  firstRowsMm,
  leastChartMm,
  stationWidthOf,
} from './benchChartPlaces';
import { line, type Drawing, type Paper } from './drawing';
import { PaperFlow } from './paperFlow';
import { chartOf, type Chart } from './sheetChart';
import { drawCode, type SheetCode } from './sheetCode';
import type { SheetExtras } from './sheetExtras';

export interface SheetOptions {
  readonly paper?: Paper;
  readonly extras?: SheetExtras;
  /** Of the scale; figures of other parts come in their own. Metric where it is left out. */
  readonly units?: Units;
  /** The way back to the screen; none where it is left out. */
  readonly code?: SheetCode | undefined;
}

const CARE =
  'A steel string under tension can break without warning and whip towards the face. Wear eye protection when fitting, tuning up or re-rigging; slacken a string before you cut it; keep your face away from the line of the string. The limits of the instrument’s maker come first, and for structural work the word of a qualified instrument technician.';
const ESTIMATES =
  'Figures for breaking and load are estimates from handbook values for new, undamaged wire.';

const NECK_PT = 13;
/** Room under a chart, so that what its cells mean stands on the same page. */
const LEGEND_MM = 6;

/** Long names take smaller type, not more of the page. */
const titlePt = (title: string): number => (title.length <= 42 ? 22 : title.length <= 90 ? 15 : 11);

function facts(setup: Setup, units: Units): string {
  const { scaleLengthMm, frets, referenceHz, reach } = setup;
  const pedals =
    reach.pedalsAtOnce === 1
      ? 'one pedal at a time'
      : `up to ${reach.pedalsAtOnce} neighbouring pedals at once`;
  return [
    `Scale ${units === 'us' ? lengthText(scaleLengthMm, units, 0) : `${scaleLengthMm} mm`}`,
    `${frets} frets`,
    `A4 = ${referenceHz} Hz`,
    ...(setup.controls.length === 0 ? ['no pedals or levers'] : [pedals]),
    ...(reach.kneeUpWithSideways ? ['a knee up and sideways at once'] : []),
  ].join(' · ');
}

/** All notes of the setup, each with what it is about. */
function notesOf(setup: Setup, extras: SheetExtras): string[] {
  const about = (what: string, notes: string | undefined): string[] =>
    notes === undefined || notes.trim() === '' ? [] : [what === '' ? notes : `${what}: ${notes}`];
  const onNeck = (neck: number): string =>
    setup.necks.length === 1 ? '' : ` of ${setup.necks[neck - 1]?.name ?? String(neck)}`;
  const sets = (ids: readonly (readonly string[])[] = []): string =>
    ids.map((each) => each.join('+')).join(', ');
  return [
    ...about('Not engaged together', sets(setup.reach.never)),
    ...about('Held together against the rule', sets(setup.reach.also)),
    ...about('', setup.notes),
    ...setup.necks.flatMap((neck, index) => [
      ...about(neck.name, neck.notes),
      ...neck.strings.flatMap(({ notes }, string) =>
        about(`String ${string + 1}${onNeck(index + 1)}`, notes),
      ),
    ]),
    ...setup.controls.flatMap(({ id, notes, pulls }) => [
      ...about(id, notes),
      ...pulls.flatMap((pull) =>
        about(`${id} on string ${pull.string}${onNeck(pull.neck)}`, pull.notes),
      ),
    ]),
    ...(extras.pulls ?? []).map(({ meaning }) => meaning),
  ];
}

const hasHalfStops = (setup: Setup): boolean =>
  setup.controls.some(({ pulls }) => pulls.some(({ half }) => half !== undefined));

/** Whether a sheet that lies across, or stands upright, is too narrow for its controls. */
function isNarrow(charts: readonly Chart[], paper: Paper, wide: boolean): boolean {
  const { left, right } = new PaperFlow('', paper, wide);
  return stationWidthOf(columnsFor(charts, left, right)) < LEAST_STATION_MM;
}

/** With the free stations, unless even a sheet that lies across has no room for those. */
function chartsOf(setup: Setup, paper: Paper, extras: SheetExtras): readonly Chart[] {
  const over = (stations?: readonly Station[]): Chart[] =>
    setup.necks.map((_, index) => chartOf(setup, index + 1, extras, stations));
  const charts = over();
  return isNarrow(charts, paper, true) ? over(fittedStations(setup)) : charts;
}

function heading(flow: PaperFlow, words: string): void {
  flow.skip(5);
  // a heading alone at the foot of a page helps nobody
  flow.need(14);
  flow.words(words, 11, { weight: 'bold' });
}

/** Ruled lines for what is changed by hand. */
function roomToWrite(flow: PaperFlow): void {
  const STEP_MM = 9;
  const lines = Math.min(10, Math.floor((flow.room - 14) / STEP_MM));
  if (lines < 2 || flow.isFresh) return;
  heading(flow, 'Written at the bench');
  for (let each = 0; each < lines; each++) {
    flow.y += STEP_MM;
    flow.add(line([flow.left, flow.y], [flow.right, flow.y], undefined, 0.4));
  }
}

/**
 * The sheet of a setup for the bench: every neck's chart, then notes and lines to write on; on A4 unless told
 * otherwise.
 */
export function benchSheet(
  setup: Setup,
  { paper = 'A4', extras = {}, code, units = 'metric' }: SheetOptions = {},
): Drawing {
  const charts = chartsOf(setup, paper, extras);
  // upright where every control has room enough, else across
  const flow = new PaperFlow(setup.name, paper, isNarrow(charts, paper, false));
  const columns = columnsFor(charts, flow.left, flow.right);

  flow.words(setup.name, titlePt(setup.name), { weight: 'bold' });
  flow.y += 0.8;
  flow.words(facts(setup, units), 8.5, { grey: true });

  for (const [index, chart] of charts.entries()) {
    flow.skip(5);
    const name = charts.length > 1 ? chart.neckName : '';
    const named = name === '' ? 0 : flow.heightOf(name, NECK_PT);
    const whole = named + leastChartMm(chart) + LEGEND_MM;
    // A chart that fits on a page is not torn apart, unless it would leave the title alone on the first.
    const turns = index > 0 && whole <= flow.pageMm;
    flow.need(turns ? whole : named + firstRowsMm(chart));
    if (name !== '') flow.words(name, NECK_PT, { weight: 'bold' });
    drawChart(flow, chart, columns, LEGEND_MM);
  }
  flow.y += 1.5;
  flow.words(legend(setup), 8, { grey: true });

  const notes = notesOf(setup, extras);
  if (notes.length > 0) {
    heading(flow, 'Notes');
    for (const note of notes) flow.words(note, 9);
  }
  const care = [CARE, ...(hasFigures(extras) ? [ESTIMATES] : [])];
  if (code === undefined) {
    heading(flow, 'Take care');
    for (const each of care) flow.words(each, 8.5);
  } else drawCode(flow, code, [{ heading: 'Take care', paragraphs: care }]);
  roomToWrite(flow);
  return flow.drawing();
}

const hasFigures = ({ strings = [], pulls = [], controls = [] }: SheetExtras): boolean =>
  strings.length + pulls.length + controls.length > 0;

function legend(setup: Setup): string {
  const strings = 'String 1 is farthest from the player; gauges in inches.';
  if (setup.controls.length === 0) return strings;
  const halves = hasHalfStops(setup) ? '; with a half-stop both, the half-stop first' : '';
  return `In each cell the note that sounds and the semitones from the open string${halves}. ${strings}`;
}
