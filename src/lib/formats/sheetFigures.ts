/** What the bench sheet tells of strings, rigging and tuning: figures as text, each in its place. */
import type { Setup } from '$lib/setup/setup';
import { splitStopOf } from '$lib/setup/stretch';
import { BAND_SIGNS } from '$lib/strings/bands';
import { NEWTONS_A_POUND, type Units } from '$lib/strings/units';
import { stringLoads } from '$lib/strings/loads';
import { rigging } from '$lib/strings/rigging';
import { centsText } from '$lib/tuning/centsText';
import { hasSaved, savedAt } from '$lib/tuning/targets';
import type { ControlRow, PullLine, SheetExtras, StringColumn } from './sheetExtras';

/** What nobody decided looks like nothing, not like a target of 0.0. */
const targetText = (cents: number | undefined, unit = ''): string =>
  cents === undefined ? '–' : `${centsText(cents)}${unit}`;

const percent = (share: number): string => `${Math.round(100 * share)} %`;

function stringColumns(setup: Setup, units: Units): StringColumn[] {
  const loads = stringLoads(setup);
  const told = loads.flatMap(({ neck, string, load }) => (load ? [{ neck, string, load }] : []));
  const columns: StringColumn[] = [];
  if (told.length > 0)
    columns.push(
      {
        heading: units === 'us' ? 'lb' : 'N',
        cells: told.map(({ neck, string, load }) => ({
          neck,
          string,
          text: `${load.estimate ? '~' : ''}${units === 'us' ? (load.tensionN / NEWTONS_A_POUND).toFixed(1) : load.tensionN.toFixed(0)}`,
        })),
      },
      {
        heading: 'at top',
        cells: told.map(({ neck, string, load }) => ({
          neck,
          string,
          text: `${percent(load.shareTop)}${load.band === 'fine' ? '' : ` ${BAND_SIGNS[load.band]}`}`,
        })),
      },
    );
  if (hasSaved(setup))
    columns.push({
      heading: 'cents',
      cells: loads.map(({ neck, string }) => ({
        neck,
        string,
        text: targetText(savedAt(setup, { neck, string, control: null, state: 'full' })),
      })),
    });
  return columns;
}

function pullLines(setup: Setup): PullLine[] {
  const lines: PullLine[] = [];
  const shares = rigging(setup).flatMap(({ id, pulls }) =>
    pulls.length < 2
      ? []
      : pulls.map(({ neck, string, share }) => ({
          control: id,
          neck,
          string,
          text: percent(share),
        })),
  );
  if (shares.length > 0)
    lines.push({
      meaning:
        'Percent: the travel of each pull against the longest of its control; set so, all arrive together.',
      cells: shares,
    });
  if (hasSaved(setup))
    lines.push({
      meaning:
        'Cents: the tuning target of each pull, from equal temperament; – is none, left in equal temperament.',
      cells: setup.controls.flatMap(({ id, pulls }) =>
        pulls.map(({ neck, string }) => ({
          control: id,
          neck,
          string,
          text: targetText(savedAt(setup, { neck, string, control: id, state: 'full' }), ' c'),
        })),
      ),
    });
  const splits = setup.controls.flatMap(({ id, pulls }) =>
    pulls.flatMap(({ neck, string, splitCents }) => {
      const stop = splitStopOf(setup, neck, string, id)?.place;
      return stop === undefined || splitCents === undefined
        ? []
        : [{ control: id, neck, string, text: `${stop.raisedBy}+ ${centsText(splitCents)} c` }];
    }),
  );
  if (splits.length > 0)
    lines.push({
      meaning: 'A+: the tuning target of the split with A, set by its own stop.',
      cells: splits,
    });
  return lines;
}

function controlRows(setup: Setup): ControlRow[] {
  const told = rigging(setup).filter(({ workJ }) => workJ > 0);
  if (told.length === 0) return [];
  return [
    {
      heading: 'work, mJ',
      cells: told.map(({ id, workJ }) => ({ control: id, text: (1000 * workJ).toFixed(0) })),
    },
  ];
}

/** The strings that are near a limit or over one are marked; the marks are told. */
export function sheetFigures(setup: Setup, units: Units = 'metric'): SheetExtras {
  const strings = stringColumns(setup, units);
  return {
    ...(strings.length === 0 ? {} : { strings }),
    pulls: [...pullLines(setup), ...marks(setup, units)],
    controls: controlRows(setup),
  };
}

/** A mark stands for the worst of what is told of a string. */
const WHAT_IS_MARKED = {
  near: 'close to breaking, nearly slack or heavy',
  beyond: 'over a limit: it may break, is slack or far too heavy',
} as const;

function marks(setup: Setup, units: Units): PullLine[] {
  const loads = stringLoads(setup).flatMap(({ load }) => load ?? []);
  if (loads.length === 0) return [];
  const meanings = [
    units === 'us'
      ? 'Lb: tension of the open string in pounds.'
      : 'N: tension of the open string in newtons.',
    'At top: share of the wire’s least strength at the highest raise.',
    ...(['near', 'beyond'] as const)
      .filter((band) => loads.some((load) => load.band === band))
      .map((band) => `${BAND_SIGNS[band]} is ${WHAT_IS_MARKED[band]}.`),
    ...(loads.some(({ estimate }) => estimate)
      ? ['~ is an estimate: the core of the wound string is taken as usual.']
      : []),
  ];
  return [{ meaning: meanings.join(' '), cells: [] }];
}
