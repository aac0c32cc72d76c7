/** `gripwright sheet --out F.svg|pdf`: the bench sheet of a setup. */
import { PAPERS } from '$lib/formats/drawing';
import type { Units } from '$lib/strings/units';
import { writeOut } from './files';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { paperOf, unitsOption } from './options';
import { countText, print, printJson } from './out';
import { addressOf, addressOption, drawingBytes, paperFormatOf, setupCode } from './paperOut';

interface SheetOptions {
  readonly setup: string;
  readonly out: string;
  readonly paper: string;
  readonly address: string;
  readonly units: Units;
  readonly json?: boolean;
}

/** Adds the job `sheet`. */
export function addSheet(job: MakeJob): void {
  job('sheet', 'draw the bench sheet: copedent, strings and gauges, notes')
    .requiredOption('--out <file>', 'where to write it; the ending says how: .svg or .pdf')
    .option('--paper <size>', PAPERS.join(' or '), 'A4')
    .addOption(unitsOption())
    .addOption(addressOption())
    .action(async (options: SheetOptions) => {
      await sheet(options);
    });
}

async function sheet(options: SheetOptions): Promise<void> {
  const { setup: named, out, units, json } = options;
  const paper = paperOf(options.paper);
  const format = paperFormatOf(out);
  const address = addressOf(options.address);
  const setup = loadSetup(named);
  const [{ benchSheet }, { sheetFigures }] = await Promise.all([
    import('$lib/formats/benchSheet'),
    import('$lib/formats/sheetFigures'),
  ]);
  const drawing = benchSheet(setup, {
    paper,
    extras: sheetFigures(setup, units),
    units,
    code: setupCode(setup, address),
  });
  const bytes = await drawingBytes(drawing, format);
  await writeOut(out, bytes);
  const pages = drawing.pages.length;
  if (json) printJson({ file: out, format, paper, pages, bytes: bytes.length, setup: setup.name });
  else
    print(`${out}: the bench sheet of “${setup.name}”, ${countText(pages, 'page')} of ${paper}.`);
}
