/** `gripwright read FILE`: a chart as people keep it, as a setup, with what was doubtful. */
import { faultText, type DocumentFault } from '$lib/faults';
import { MOST_CHART_BYTES, chartTextOf } from '$lib/formats/read/chartBytes';
import type { Doubt } from '$lib/formats/read/chart/doubts';
import type { TablatureReading } from '$lib/formats/read/tablature';
import { chartText } from '$lib/formats/write/chart';
import { pitchesOf } from '$lib/search/hold';
import { engagedCode } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { setupFileOf, setupText } from '$lib/setup/writeSetup';
import { bytesOf, sizeOf, stdinBytes, writeOut } from './files';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { Refusal, countText, print, printJson, table } from './out';

interface ReadOptions {
  readonly setup: string;
  readonly as?: string;
  readonly out?: string;
  readonly json?: boolean;
}

/** Adds the job `read`. */
export function addRead(job: MakeJob): void {
  job('read', 'read a chart as people keep it as a setup, or tablature as positions', false)
    .argument('<file>', 'the chart as a text file; - reads what is piped in')
    .option('--as <what>', 'chart or tablature; found out where nothing is said')
    .option('--setup <file or id>', 'the setup that tablature is for', 'e9')
    .option('--out <file>', 'keep the setup as a file')
    .addHelpText(
      'after',
      '\nWhat the chart leaves open is read in the usual way and told as a doubt, with its line and what it\ncould be instead. A text that is no chart is refused, with the reason.',
    )
    .action(async (file: string, options: ReadOptions) => {
      await read(file, options);
    });
}

/** `F: read as LKL, …; it could be LKV, …`. */
function doubtText({ where, found, isQuoted, read: said, choices }: Doubt): string {
  const others = choices.slice(1, 4).map(({ says }) => says);
  const more = choices.length > 4 ? ', or another' : '';
  return `  ${where}: found ${isQuoted ? `“${found}”` : found}, read as ${said}${others.length === 0 ? '' : `; it could be ${others.join(', or ')}${more}`}.`;
}

/** A chart's text, from a file or from what is piped in. */
function textOf(file: string): string {
  if (file === '-') return chartTextOf(stdinBytes(MOST_CHART_BYTES));
  if (sizeOf(file) > MOST_CHART_BYTES)
    throw new Refusal(
      `${file}: it is too large for a chart, which has at most ${MOST_CHART_BYTES / 1e6} megabytes.`,
      1,
    );
  return chartTextOf(bytesOf(file));
}

function printDoubts(doubts: readonly Doubt[]): void {
  print('');
  if (doubts.length === 0) print('Nothing was doubtful.');
  else print([`${countText(doubts.length, 'doubt')}:`, ...doubts.map(doubtText)].join('\n'));
}

function printReading(setup: Setup, doubts: readonly Doubt[]): void {
  print(chartText(setup, 'text').trimEnd());
  printDoubts(doubts);
}

const refusal = (file: string, error: DocumentFault): Refusal =>
  new Refusal(
    faultText({ ...error, path: error.path === '' ? file : `${file}, ${error.path}` }),
    1,
    [error],
  );

/** As JSON has them. */
const doubtsJson = (doubts: readonly Doubt[]): unknown[] =>
  doubts.map(({ where, found, read: said, choices }) => ({
    where,
    found,
    read: said,
    choices: choices.map(({ says }) => says),
  }));

/** Tells the positions of tablature. */
function tellPositions(setup: Setup, { positions, doubts }: TablatureReading, json: boolean): void {
  const rows = positions.map(({ neck, fret, engaged, strings }) => ({
    neck: setup.necks[neck - 1]?.name ?? '',
    fret,
    controls: engagedCode(engaged),
    strings,
  }));
  if (json) {
    const told = positions.map((hold) => ({
      neck: hold.neck,
      fret: hold.fret,
      controls: hold.engaged,
      strings: hold.strings,
      pitches: pitchesOf(setup, hold),
    }));
    printJson({ positions: told, doubts: doubtsJson(doubts) });
    return;
  }
  const hasNecks = setup.necks.length > 1;
  const lines = rows.map(({ neck, fret, controls, strings }) => [
    ...(hasNecks ? [neck] : []),
    String(fret),
    controls === '' ? '–' : controls,
    strings.join('-'),
  ]);
  const heads = [...(hasNecks ? ['Neck'] : []), 'Fret', 'Controls', 'Strings'];
  print(table(heads, lines, [hasNecks ? 1 : 0]));
  printDoubts(doubts);
}

async function read(
  file: string,
  { setup: named, as: what, out, json = false }: ReadOptions,
): Promise<void> {
  if (what !== undefined && what !== 'chart' && what !== 'tablature')
    throw new Refusal(`--as: found “${what}”; allowed are chart and tablature.`, 2);
  const [{ readChart }, { readTablature }] = await Promise.all([
    import('$lib/formats/read/chart/readChart'),
    import('$lib/formats/read/tablature'),
  ]);
  const text = textOf(file);
  const reading = what === 'tablature' ? undefined : readChart(text);
  if (reading?.ok !== true) {
    const setup = loadSetup(named);
    const tablature = what === 'chart' ? undefined : readTablature(text, setup);
    if (tablature?.ok === true) {
      if (out !== undefined)
        throw new Refusal('--out: keeps a setup; tablature is for one that is there already.', 1);
      tellPositions(setup, tablature.value, json);
      return;
    }
    if (reading !== undefined) throw refusal(file, reading.error);
    throw tablature === undefined ? new Error('neither was read') : refusal(file, tablature.error);
  }
  const { setup, doubts } = reading.value;
  if (out !== undefined) await writeOut(out, new TextEncoder().encode(setupText(setup)));
  if (json)
    printJson({
      setup: setupFileOf(setup),
      doubts: doubtsJson(doubts),
      ...(out === undefined ? {} : { file: out }),
    });
  else {
    printReading(setup, doubts);
    if (out !== undefined) print(`\nThe setup is kept as ${out}.`);
  }
}
