/** `gripwright rig`: from pulls to rods, holes and stops; and the way from one rig to another. */
import type { Setup } from '$lib/setup/setup';
import { PAPERS, type Drawing } from '$lib/formats/drawing';
import {
  WAY_WORDS,
  rigReport,
  wayReport,
  type RigReport,
  type WayReport,
} from '$lib/formats/rigReport';
import { capacities } from '$lib/strings/rig/capacity';
import { rigDifferences, type StationedRod } from '$lib/strings/rig/differences';
import { forceOf } from '$lib/strings/rig/forces';
import { leftOutText } from '$lib/strings/rig/text';
import { rigOf, type LaidRod, type Rig } from '$lib/strings/rig/rig';
import { sensitivities } from '$lib/strings/rig/sensitivity';
import { springNeeds } from '$lib/strings/rig/springs';
import { timingOf } from '$lib/strings/rig/timing';
import type { Units } from '$lib/strings/units';
import { writeOut } from './files';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { paperOf, unitsOption } from './options';
import { Refusal, countText, inLines, print, printJson, table } from './out';
import { drawingBytes, paperFormatOf } from './paperOut';

interface RigOptions {
  readonly setup: string;
  readonly to?: string;
  readonly free?: boolean;
  readonly out?: string;
  readonly paper: string;
  readonly units: Units;
  readonly json?: boolean;
}

/** Adds the job `rig`. */
export function addRig(job: MakeJob): void {
  job('rig', 'rods, holes, cranks and stops for every pull; or the way to another rig')
    .argument('[setup]', 'the same as --setup')
    .option('--to <file or id>', 'tell what has to be changed to come to this setup')
    .option('--free', 'look for better holes than those that the setup tells')
    .option('--out <file>', 'write the rigging sheet; the ending says how: .svg or .pdf')
    .option('--paper <size>', PAPERS.join(' or '), 'A4')
    .addOption(unitsOption())
    .action(async (named: string | undefined, options: RigOptions) => {
      await rig(named ?? options.setup, options);
    });
}

/** Parts of text go on lines of a hundred columns. */
const paragraph = (sentence: string, indent = 0): string =>
  `${' '.repeat(indent)}${inLines(sentence.split(' '), ' ', indent).trimStart()}`;

async function rig(named: string, options: RigOptions): Promise<void> {
  const paper = paperOf(options.paper);
  const format = options.out === undefined ? undefined : paperFormatOf(options.out);
  if (options.free && options.to !== undefined)
    throw new Refusal('--free: found it beside --to; allowed is one of them.', 2);
  const setup = loadSetup(named);
  const proposal = options.to === undefined ? undefined : loadSetup(options.to);
  const { units, free = false, out, json } = options;
  const worked = proposal === undefined ? rigOf(setup, { free }) : undefined;
  if (out !== undefined && format !== undefined) {
    const { rigDrawing, waySheet } = await import('$lib/formats/rigSheet');
    const drawing: Drawing =
      proposal === undefined
        ? rigDrawing(rigReport(setup, worked ?? rigOf(setup, { free }), units), paper)
        : waySheet(setup, proposal, { paper, units });
    const bytes = await drawingBytes(drawing, format);
    await writeOut(out, bytes);
    const pages = drawing.pages.length;
    if (json) printJson({ file: out, format, paper, pages, bytes: bytes.length });
    else print(`${out}: the rigging sheet, ${countText(pages, 'page')} of ${paper}.`);
  } else if (proposal !== undefined) {
    if (json) printJson(wayJson(setup, proposal));
    else printWay(wayReport(setup, proposal, units));
  } else if (worked !== undefined) {
    if (json) printJson(rigJson(setup, worked));
    else printRig(rigReport(setup, worked, units));
  }
}

const rodJson = ({ levers, stretchMm, wayMm, ...rod }: LaidRod) => ({
  control: rod.control,
  neck: rod.neck,
  string: rod.string,
  semitones: rod.semitones,
  half: rod.half ?? null,
  kind: rod.kind,
  hole: rod.hole,
  holeMm: levers.holeMm,
  crank: rod.crank,
  crankMm: levers.crankMm,
  stretchMm,
  rodMm: wayMm,
  startShare: rod.startShare,
  halfShare: rod.halfShare ?? null,
  measured: rod.measured,
  estimate: rod.estimate,
});

/** What `gripwright rig --json` prints: forces in newtons, lengths in millimetres, shares of the travel from 0 to 1. */
const rigJson = (setup: Setup, rig: Rig) => ({
  setup: setup.name,
  controls: rig.controls.flatMap((control) => {
    const own = setup.controls.find(({ id }) => id === control.control);
    if (own === undefined) return [];
    const { stopDegrees, travelMm, slackShare, letOut, atMm } = control;
    return [
      {
        id: control.control,
        station: control.station,
        shaftMm: atMm,
        stopDegrees,
        letOut,
        travelMm,
        slackShare,
        force: forceOf(control, own),
        timing: timingOf(control) ?? null,
        rods: control.rods.map(rodJson),
      },
    ];
  }),
  leftOut: rig.leftOut.map((each) => ({
    ...each,
    sentence: leftOutText(each, setup.necks.length),
  })),
  capacity: capacities(setup),
  springs: springNeeds(setup, rig),
  sensitivity: sensitivities(rig, setup.scaleLengthMm),
  usual: rig.described.usual,
  proved: rig.proved,
  order: rigReport(setup, rig, 'metric').order,
});

function wayJson(today: Setup, proposal: Setup) {
  const changes = rigDifferences(today, proposal);
  const stationed = ({ station, rod }: StationedRod) => ({ station, ...rodJson(rod) });
  const pairs = (both: RigDifferences['moved']) =>
    both.map(({ was, is }) => ({ was: stationed(was), is: stationed(is) }));
  const way = wayReport(today, proposal, 'metric');
  return {
    from: today.name,
    to: proposal.name,
    off: changes.off.map(stationed),
    on: changes.on.map(stationed),
    moved: pairs(changes.moved),
    retuned: pairs(changes.retuned),
    kept: changes.kept,
    stops: changes.stops,
    buy: way.buy,
    order: way.proposal.order,
    rig: rigJson(proposal, changes.to),
  };
}
type RigDifferences = ReturnType<typeof rigDifferences>;

function printList(heading: string, sentences: readonly string[], numbers = false): void {
  if (sentences.length === 0) return;
  print(`\n${heading}`);
  sentences.forEach((sentence, index) => {
    const mark = numbers ? `${index + 1}. ` : '';
    print(paragraph(`${mark}${sentence}`));
  });
}

function printControls({ controls }: RigReport): void {
  for (const { id, station, stop, force, timing, notes, rods } of controls) {
    print(`\n${id === station ? id : `${id} (${station})`}: ${stop}`);
    print(`  ${force}`);
    if (timing !== '') print(`  its pull${rods.length === 1 ? '' : 's'} ${timing}`);
    print(
      table(
        [
          '  string',
          'pull',
          'hole of the finger',
          'hole of the crank',
          'stretch',
          'rod',
          'begins',
          'half',
        ],
        rods.map((rod) => [
          `  ${rod.string}`,
          rod.pull,
          `${rod.hole}${rod.measured ? ' *' : ''}`,
          rod.crank,
          rod.stretch,
          rod.way,
          rod.starts,
          rod.half,
        ]),
        [4, 5, 6, 7],
      ),
    );
    for (const note of notes) print(paragraph(`! ${note}`, 2));
  }
  if (controls.some(({ rods }) => rods.some(({ measured }) => measured)))
    print('\n* as the setup tells it.');
}

function printEnd(report: RigReport): void {
  printList('Splits', report.splits);
  printList('Return springs of the lowers', report.springs);
  printList('How exactly to measure', report.exactness);
  print('');
  if (report.usual !== undefined) print(paragraph(report.usual));
  print(paragraph(report.note));
  print('');
  for (const caution of report.cautions) print(`⚠ ${caution}`);
}

function printRig(report: RigReport): void {
  print(`The rig of “${report.name}”`);
  if (report.controls.length === 0 && report.problems.length === 0) {
    print('\nIt has no pedals or levers, so there is nothing to rig.');
    return;
  }
  printList('What cannot be done so', report.problems);
  printControls(report);
  printList('Order of work', report.order, true);
  printEnd(report);
}

function printWay({ from, to, rows, kept, buy, proposal }: WayReport): void {
  print(`The way from “${from}” to “${to}”`);
  printList('What cannot be done so', proposal.problems);
  print('');
  if (rows.length === 0) print('Nothing has to be changed.');
  else
    print(
      table(
        ['what', 'where', 'how'],
        rows.map(({ what, where, how }) => [WAY_WORDS[what], where, how]),
      ),
    );
  print(`\n${kept === 1 ? 'One rod stays' : `${kept} rods stay`} as before.`);
  if (buy.length > 0) print(`To buy: ${buy.join(', ')}.`);
  printList('Order of work', proposal.order, true);
  printEnd(proposal);
}
