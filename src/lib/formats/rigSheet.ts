/** The rigging sheet: a rig on paper, to lie at the bench while rods are hooked in; and the way from one rig to another. */
import type { Setup } from '$lib/setup/setup';
import type { RigWish } from '$lib/strings/rig/rig';
import type { ControlLines } from '$lib/strings/rig/text';
import type { Units } from '$lib/strings/units';
import { line, text, type Drawing, type Paper } from './drawing';
import { PaperFlow } from './paperFlow';
import { WAY_WORDS, reportOf, wayReport, type RigReport, type WayReport } from './rigReport';
import { cut } from './type/setting';

/** A column of a table: what stands above it, and where it begins, as a share of the page's width. */
interface Column {
  readonly name: string;
  readonly at: number;
}

const TABLE_PT = 8.5;
const ROW_MM = 5;
const ROD_COLUMNS: readonly Column[] = [
  { name: 'string', at: 0 },
  { name: 'pull', at: 0.08 },
  { name: 'hole of the finger', at: 0.17 },
  { name: 'hole of the crank', at: 0.37 },
  { name: 'stretch', at: 0.54 },
  { name: 'rod travel', at: 0.66 },
  { name: 'begins', at: 0.78 },
  { name: 'half-stop', at: 0.87 },
  { name: 'done', at: 0.96 },
];
const WAY_COLUMNS: readonly Column[] = [
  { name: 'what', at: 0 },
  { name: 'where', at: 0.115 },
  { name: 'how', at: 0.27 },
  { name: 'done', at: 0.96 },
];

function row(flow: PaperFlow, columns: readonly Column[], cells: readonly string[], head = false) {
  flow.need(ROW_MM);
  flow.y += ROW_MM;
  columns.forEach(({ at }, i) => {
    const next = columns[i + 1]?.at ?? 1.02;
    const words = cut(cells[i] ?? '', TABLE_PT, flow.span * (next - at) - 1);
    flow.add(text(flow.left + flow.span * at, flow.y - 1.4, words, TABLE_PT, { grey: head }));
  });
  flow.add(line([flow.left, flow.y], [flow.right, flow.y], undefined, head ? 1 : 0.3));
}

/** An empty box to be ticked, at the end of a row. */
function tick(flow: PaperFlow): void {
  const [left, size] = [flow.left + flow.span * 0.965, 3];
  const [top, right, bottom] = [flow.y - 4, left + size, flow.y - 4 + size];
  flow.add(
    line([left, top], [right, top]),
    line([right, top], [right, bottom]),
    line([right, bottom], [left, bottom]),
    line([left, bottom], [left, top]),
  );
}

function heading(flow: PaperFlow, words: string, withMm = 16): void {
  flow.skip(5);
  flow.need(withMm);
  flow.words(words, 11, { weight: 'bold' });
}

function section(flow: PaperFlow, words: string, sentences: readonly string[], sizePt = 9): void {
  if (sentences.length === 0) return;
  heading(flow, words);
  for (const sentence of sentences) flow.words(sentence, sizePt);
}

function steps(flow: PaperFlow, words: string, sentences: readonly string[]): void {
  if (sentences.length === 0) return;
  heading(flow, words);
  sentences.forEach((sentence, index) => {
    flow.y += 0.6;
    flow.words(`${index + 1}.  ${sentence}`, 9);
  });
}

function control(flow: PaperFlow, { id, station, stop, force, timing, notes, rods }: ControlLines) {
  // a control's rods stay on a page with what is said of it
  heading(flow, id === station ? id : `${id} (${station})`, 22 + ROW_MM * (rods.length + 1));
  flow.words(`${stop.charAt(0).toUpperCase()}${stop.slice(1)}. Force ${force}.`, 8.5, {
    grey: true,
  });
  if (timing !== '') flow.words(`${rods.length === 1 ? 'Its pull' : 'Its pulls'} ${timing}.`, 8.5);
  row(
    flow,
    ROD_COLUMNS,
    ROD_COLUMNS.map(({ name }) =>
      name === 'half-stop' && rods.every(({ half }) => half === '') ? '' : name,
    ),
    true,
  );
  for (const rod of rods) {
    const { string, pull, hole, crank, stretch, way, starts, half } = rod;
    row(flow, ROD_COLUMNS, [string, pull, hole, crank, stretch, way, starts, half]);
    tick(flow);
  }
  flow.y += 1;
  for (const note of notes) flow.words(note, 8.5);
}

function title(flow: PaperFlow, words: string, under: string): void {
  flow.words(words, words.length <= 42 ? 22 : words.length <= 90 ? 15 : 11, { weight: 'bold' });
  flow.y += 0.8;
  flow.words(under, 8.5, { grey: true });
}

/** What stands on every sheet of a rig, from its problems to its cautions. */
function body(flow: PaperFlow, report: RigReport): void {
  section(flow, 'What cannot be done so', report.problems);
  for (const each of report.controls) control(flow, each);
  section(flow, 'Splits', report.splits, 8.5);
  section(flow, 'Return springs of the lowers', report.springs, 8.5);
}

function foot(flow: PaperFlow, report: RigReport): void {
  section(flow, 'How exactly to measure', report.exactness, 8.5);
  section(flow, 'Take care', report.cautions, 8.5);
  section(
    flow,
    'What the figures rest on',
    [...(report.usual === undefined ? [] : [report.usual]), report.note],
    8.5,
  );
}

const COLUMNS_TOLD =
  'Begins and half-stop are shares of the control’s travel. Holes are counted from the first that is entered, with their distance from the axle or from the middle of the cross shaft. ~ is an estimate: the core of the wound string is taken as usual.';

/** The drawing of a report. */
export function rigDrawing(report: RigReport, paper: Paper): Drawing {
  const flow = new PaperFlow(report.name, paper, false);
  title(flow, report.name, `Rigging sheet. ${COLUMNS_TOLD}`);
  body(flow, report);
  steps(flow, 'Order of work', report.order);
  foot(flow, report);
  return flow.drawing();
}

/** The drawing of the way from a rig to another. */
function wayDrawing(report: WayReport, paper: Paper): Drawing {
  const { from, to, rows, kept, buy, proposal } = report;
  const flow = new PaperFlow(`${to}, from ${from}`, paper, false);
  title(
    flow,
    `The way to ${to}`,
    `From “${from}”. ${rows.length === 0 ? 'Nothing has to be changed.' : ''} ${kept === 1 ? 'One rod stays' : `${kept} rods stay`} as ${kept === 1 ? 'it is' : 'they are'}.`,
  );
  section(flow, 'To buy', buy);
  if (rows.length > 0) {
    heading(flow, 'What changes');
    row(
      flow,
      WAY_COLUMNS,
      WAY_COLUMNS.map(({ name }) => name),
      true,
    );
    for (const { what, where, how } of rows) {
      row(flow, WAY_COLUMNS, [WAY_WORDS[what], where, how]);
      tick(flow);
    }
  }
  steps(flow, 'Order of work', proposal.order);
  heading(flow, 'The rig as it is then');
  flow.words(COLUMNS_TOLD, 8.5, { grey: true });
  body(flow, proposal);
  foot(flow, proposal);
  return flow.drawing();
}

/** How a sheet is drawn. */
export interface RigSheetOptions {
  readonly paper?: Paper;
  readonly units?: Units;
  readonly wish?: RigWish;
}

/** The rigging sheet of a setup; on A4 and in millimetres unless told otherwise. */
export const rigSheet = (
  setup: Setup,
  { paper = 'A4', units = 'metric', wish }: RigSheetOptions = {},
): Drawing => rigDrawing(reportOf(setup, units, wish), paper);

/** The sheet of the way from today's rig to a proposal. */
export const waySheet = (
  today: Setup,
  proposal: Setup,
  { paper = 'A4', units = 'metric' }: Omit<RigSheetOptions, 'wish'> = {},
): Drawing => wayDrawing(wayReport(today, proposal, units), paper);
