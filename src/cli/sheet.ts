/** `gripwright sheet --out F.svg|pdf`: the bench sheet of a setup. */
import { PAPERS, type Drawing } from '$lib/formats/drawing';
import { writeOut } from './files';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { paperOf } from './options';
import { Refusal, countText, print, printJson } from './out';

interface SheetOptions {
  readonly setup: string;
  readonly out: string;
  readonly paper: string;
  readonly json?: boolean;
}

/** Adds the job `sheet`. */
export function addSheet(job: MakeJob): void {
  job('sheet', 'draw the bench sheet: copedent, strings and gauges, notes')
    .requiredOption('--out <file>', 'where to write it; the ending says how: .svg or .pdf')
    .option('--paper <size>', PAPERS.join(' or '), 'A4')
    .action(async (options: SheetOptions) => {
      await sheet(options);
    });
}

/** The bytes of a drawing, as the ending of the file's name asks for them. */
export async function drawingBytes(drawing: Drawing, format: 'svg' | 'pdf'): Promise<Uint8Array> {
  if (format === 'pdf') return (await import('$lib/formats/pdf')).pdfBytes(drawing);
  return new TextEncoder().encode((await import('$lib/formats/svg')).svgText(drawing));
}

/** How a drawing is to be written, by the ending of the file's name. */
export function drawnAs(out: string): 'svg' | 'pdf' {
  const ending = /\.(svg|pdf)$/i.exec(out)?.[1]?.toLowerCase();
  if (ending !== 'svg' && ending !== 'pdf')
    throw new Refusal(`--out: found “${out}”; allowed is a file that ends in .svg or .pdf.`, 2);
  return ending;
}

async function sheet({ setup: named, out, paper: size, json }: SheetOptions): Promise<void> {
  const paper = paperOf(size);
  const ending = drawnAs(out);
  const setup = loadSetup(named);
  const [{ benchSheet }, { sheetFigures }] = await Promise.all([
    import('$lib/formats/benchSheet'),
    import('$lib/formats/sheetFigures'),
  ]);
  const drawing = benchSheet(setup, { paper, extras: sheetFigures(setup) });
  const bytes = await drawingBytes(drawing, ending);
  await writeOut(out, bytes);
  const pages = drawing.pages.length;
  if (json)
    printJson({ file: out, format: ending, paper, pages, bytes: bytes.length, setup: setup.name });
  else
    print(`${out}: the bench sheet of “${setup.name}”, ${countText(pages, 'page')} of ${paper}.`);
}
