/** What the jobs that weigh setups share: their options, a coverage as JSON, numbers as text. */
import { keyText, type Key } from '$lib/theory/spelling';
import { faultText } from '$lib/faults';
import type { Coverage, CoverageOptions } from '$lib/coverage/coverage';
import { USUAL_KEY } from '$lib/coverage/pocketWishes';
import { measured, type Measure } from '$lib/coverage/measures';
import { POCKET_WIDTHS } from '$lib/coverage/pocketWishes';
import { EVERYDAY_REPERTOIRE, type Repertoire } from '$lib/theory/repertoire';
import { readRepertoireFile } from '$lib/coverage/repertoireFile';
import type { Command } from 'commander';
import { readFileText } from './files';
import { keyOf } from './options';
import { Refusal, numberText } from './out';

/** The options that these jobs share, as they are written. */
export interface WeighingOptions {
  readonly repertoire?: string;
  readonly key?: string;
  readonly pocket?: string;
  readonly mostEffort?: string;
  readonly json?: boolean;
}

/** Adds these options to a job. */
export const withWeighing = (command: Command): Command =>
  command
    .option(
      '--repertoire <file>',
      'chord types and how much each is used; everyday ones by default',
    )
    .option('--key <key>', 'the key of the pockets, such as Eb or F#m', keyText(USUAL_KEY))
    .option('--pocket <frets>', 'frets to either side that belong to a pocket: 0, 1 or 2', '0')
    .option('--most-effort <effort>', 'count only voicings of at most this effort, such as 3');

/** The repertoire in a file, or the everyday one; a file that cannot be used is refused with every fault. */
export function loadRepertoire(path: string | undefined): Repertoire {
  if (path === undefined) return EVERYDAY_REPERTOIRE;
  const read = readRepertoireFile(readFileText(path));
  if (read.ok) return read.value;
  throw new Refusal(
    [
      `${path} is not a repertoire that can be used:`,
      ...read.error.map((f) => `  ${faultText(f)}`),
    ],
    1,
    read.error,
  );
}

/** The same options, read. */
export interface Weighing {
  readonly repertoire: Repertoire;
  readonly key: Key;
  readonly options: CoverageOptions;
  /** The options as the JSON repeats them. */
  readonly asked: Readonly<Record<string, unknown>>;
}

/** Reads them; the first one that cannot be read is refused. */
export function weighingOf(options: WeighingOptions): Weighing {
  const key = keyOf(options.key ?? keyText(USUAL_KEY));
  const pocket = POCKET_WIDTHS.find((width) => String(width) === (options.pocket ?? '0'));
  if (pocket === undefined)
    throw new Refusal(`--pocket: found “${options.pocket ?? ''}”; allowed are 0, 1, 2.`, 2);
  const most = options.mostEffort;
  if (most !== undefined && !/^\d{1,3}(\.\d{1,3})?$/.test(most))
    throw new Refusal(`--most-effort: found “${most}”; allowed is a number such as 3 or 2.5.`, 2);
  const repertoire = loadRepertoire(options.repertoire);
  const mostEffort = most === undefined ? undefined : Number(most);
  return {
    repertoire,
    key,
    options: { key, pocket, ...(mostEffort === undefined ? {} : { mostEffort }) },
    asked: { repertoire, key: keyText(key), pocket, mostEffort: mostEffort ?? null },
  };
}

/** Hundredths are more than any bar is set to. */
const mmJson = (mm: number | null): number | null => (mm === null ? null : Number(mm.toFixed(2)));

/** A coverage as `coverage` and `compare` print it. */
export const coverageJson = (coverage: Coverage, { repertoire }: Weighing) => {
  const { setup, types, pockets, travel } = coverage;
  return {
    setup: {
      name: setup.name,
      necks: setup.necks.map(({ name, strings }) => ({ name, strings: strings.length })),
      controls: setup.controls.length,
    },
    measures: measured(coverage, repertoire),
    types,
    pockets,
    travel: {
      averageMm: mmJson(travel.averageMm),
      between: travel.between.map(({ from, to, mm }) => ({ from, to, mm: mmJson(mm) })),
    },
  };
};

/** A figure of a measure, or a dash. */
export const figure = ({ digits, unit }: Measure, value: number | null): string =>
  value === null
    ? '–'
    : `${value.toLocaleString('en', { minimumFractionDigits: digits, maximumFractionDigits: digits })}${unit === '' ? '' : unit === '%' ? ' %' : ` ${unit}`}`;

/** Of all twelve roots, for one of them: what is counted comes to this on average. */
export const perRoot = (count: number): string =>
  count / 12 >= 10 || count === 0 ? numberText(Math.round(count / 12)) : (count / 12).toFixed(1);

/** An effort, or a dash where there is nothing to play. */
export const effortText = (effort: number | null): string =>
  effort === null ? '–' : effort.toFixed(2);
