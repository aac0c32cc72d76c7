/** All that is told of a rig, as plain text in its order: for the sheet, the page and the terminal alike. */
import { prettyPitch } from '$lib/theory/display';
import type { Setup } from '$lib/setup/setup';
import { STRING_CAUTIONS } from '$lib/strings/cautions';
import { rigDifferences, type RigDifferences } from '$lib/strings/rig/differences';
import { orderOfChange, orderOfWork } from '$lib/strings/rig/order';
import { rigOf, type Rig, type RigWish } from '$lib/strings/rig/rig';
import {
  RIG_NOTE,
  controlLines,
  degreesText,
  exactnessTexts,
  problemTexts,
  rodCells,
  springTexts,
  stringNumber,
  usualText,
  wireText,
  type ControlLines,
} from '$lib/strings/rig/text';
import type { Units } from '$lib/strings/units';
import { splitText } from '$lib/tuning/stopText';
import { savedSplits } from '$lib/tuning/splits';

/** A rig in words. */
export interface RigReport {
  readonly name: string;
  /** What cannot be done, with the reason and the nearest that can. */
  readonly problems: readonly string[];
  readonly controls: readonly ControlLines[];
  readonly splits: readonly string[];
  readonly springs: readonly string[];
  readonly exactness: readonly string[];
  /** What is counted with usual values; nothing where all is measured. */
  readonly usual: string | undefined;
  readonly order: readonly string[];
  readonly note: string;
  readonly cautions: readonly string[];
}

/** What is to be said of each split that the body can reach: where it comes out, and which screw sets it. */
const rigSplits = (setup: Setup): string[] =>
  savedSplits(setup)
    .filter(({ engaged }) => engaged.every(({ state }) => state === 'full'))
    .map((split) =>
      split.ownStop
        ? `${splitText(setup, split)} Its split screw sets it.`
        : setup.splitStops === true
          ? splitText(setup, split)
          : `${splitText(setup, split)} There is no split screw.`,
    );

/** A worked-out rig as a report. */
export function rigReport(setup: Setup, rig: Rig, units: Units): RigReport {
  const splits = rigSplits(setup);
  return {
    name: setup.name,
    problems: problemTexts(setup, rig),
    controls: controlLines(setup, rig, units),
    splits,
    springs: springTexts(setup, rig, units),
    exactness: exactnessTexts(setup, rig),
    usual: usualText(rig),
    order: orderOfWork(setup, rig, splits, units),
    note: RIG_NOTE,
    cautions: STRING_CAUTIONS,
  };
}

/** A setup's rig, worked out and told. */
export const reportOf = (setup: Setup, units: Units, wish?: RigWish): RigReport =>
  rigReport(setup, rigOf(setup, wish), units);

/** One thing that is done on the way from a rig to another: what, to which control and string, and how. */
export interface WayRow {
  readonly key: string;
  readonly what: 'off' | 'on' | 'move' | 'tune' | 'stop' | 'string';
  readonly where: string;
  readonly how: string;
}

/** How each kind of work is called. */
export const WAY_WORDS: Readonly<Record<WayRow['what'], string>> = {
  off: 'rod off',
  on: 'rod on',
  move: 'rod moved',
  tune: 'pull retuned',
  stop: 'stop set',
  string: 'string',
};

/** The way from today's rig to a proposal, in words. */
export interface WayReport {
  readonly from: string;
  readonly to: string;
  readonly rows: readonly WayRow[];
  /** Rods that stay as they are. */
  readonly kept: number;
  /** What is to be bought. */
  readonly buy: readonly string[];
  readonly proposal: RigReport;
}

const controlName = (id: string, station: string): string =>
  id === station ? id : `${id} (${station})`;

function wayRows(today: Setup, proposal: Setup, changes: RigDifferences, units: Units): WayRow[] {
  const necks = proposal.necks.length;
  const rows: Omit<WayRow, 'key'>[] = [
    ...(['off', 'on'] as const).flatMap((what) =>
      changes[what].map(({ station, rod }) => {
        const cells = rodCells(rod, necks, units);
        return {
          what,
          where: `${controlName(rod.control, station)}, string ${cells.string}`,
          how: `${cells.pull}: ${cells.hole}, crank ${cells.crank}`,
        };
      }),
    ),
    ...changes.moved.map(({ was, is }) => {
      const [old, cells] = [rodCells(was.rod, necks, units), rodCells(is.rod, necks, units)];
      return {
        what: 'move' as const,
        where: `${controlName(is.rod.control, is.station)}, string ${cells.string}`,
        // what stays is said in a word, so that a line of the sheet has room for what does not
        how: `${cells.pull}: ${old.hole === cells.hole ? 'hole as it is' : `${old.hole} to ${cells.hole}`}, crank ${old.crank === cells.crank ? 'as it is' : `${old.crank} to ${cells.crank}`}`,
      };
    }),
    ...changes.retuned.map(({ was, is }) => ({
      what: 'tune' as const,
      where: `${controlName(is.rod.control, is.station)}, string ${stringNumber(necks, is.rod.neck, is.rod.string)}`,
      how: `from ${rodCells(was.rod, necks, units).pull} to ${rodCells(is.rod, necks, units).pull}, by the screw at the rod’s end`,
    })),
    ...changes.stops.map(({ station, wasDegrees, isDegrees }) => ({
      what: 'stop' as const,
      where: station,
      how: `from ${degreesText(wasDegrees)} to ${degreesText(isDegrees)} of the cross shaft`,
    })),
    ...changes.strings.map(({ neck, string, was, is, buy }) => ({
      what: 'string' as const,
      where: `string ${stringNumber(necks, neck, string)}`,
      how: `${was === undefined ? '' : `from ${prettyPitch(was.open)}, ${wireText(was)} `}to ${prettyPitch(is.open)}, ${wireText(is)}${buy ? ': to be bought' : ''}`,
    })),
    ...changes.stringsOff.map(({ neck, string }) => ({
      what: 'string' as const,
      where: `string ${stringNumber(today.necks.length, neck, string)}`,
      how: 'is taken off',
    })),
  ];
  return rows.map((row, index) => ({ ...row, key: String(index) }));
}

/** The way from today's setup to a proposal on the same instrument. */
export function wayReport(today: Setup, proposal: Setup, units: Units): WayReport {
  const changes = rigDifferences(today, proposal);
  const report = rigReport(proposal, changes.to, units);
  return {
    from: today.name,
    to: proposal.name,
    rows: wayRows(today, proposal, changes, units),
    kept: changes.kept,
    buy: changes.strings
      .filter(({ buy }) => buy)
      .map(
        ({ neck, string, is }) =>
          `${wireText(is)} for string ${stringNumber(proposal.necks.length, neck, string)}`,
      ),
    proposal: { ...report, order: orderOfChange(proposal, changes, report.splits, units) },
  };
}
