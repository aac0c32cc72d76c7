/** Sheets as files: the bytes of a drawing, and the code that leads from paper back to the screen. */
import { Option } from 'commander';
import type { Drawing } from '$lib/formats/drawing';
import { OWN_ADDRESS, readPaperAddress } from '$lib/formats/paperAddress';
import { codeOfPiece } from '$lib/formats/pieceCode';
import { tuneOf } from '$lib/formats/tuneBeside';
import { linkText } from '$lib/formats/shareLink';
import type { SheetCode } from '$lib/formats/sheetCode';
import { progressionDocument } from '$lib/formats/progressionDocument';
import { WISH_PARTS, type WishTexts } from '$lib/answers/wishParts';
import type { Piece } from '$lib/arrange/piece';
import { writePiece } from '$lib/arrange/writeText';
import { isBuiltInId } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import { setupFileOf } from '$lib/setup/writeSetup';
import { Refusal } from './out';

/** The kinds of files that a sheet is written to. */
export type PaperFormat = 'svg' | 'pdf';

/** The kind that the ending of `--out` asks for. */
export function paperFormatOf(out: string): PaperFormat {
  const ending = /\.(svg|pdf)$/i.exec(out)?.[1]?.toLowerCase();
  if (ending === 'svg' || ending === 'pdf') return ending;
  throw new Refusal(`--out: found “${out}”; allowed is a file that ends in .svg or .pdf.`, 2);
}

/** The bytes of a drawing. */
export async function drawingBytes(drawing: Drawing, format: PaperFormat): Promise<Uint8Array> {
  if (format === 'pdf') return (await import('$lib/formats/pdf')).pdfBytes(drawing);
  return new TextEncoder().encode((await import('$lib/formats/svg')).svgText(drawing));
}

/** Where the code of a sheet points: `--address`, or once for all in the environment. */
export const addressOption = (): Option =>
  new Option('--address <address>', 'where the program is found by whoever reads the sheet’s code')
    .default(OWN_ADDRESS)
    .env('GRIPWRIGHT_ADDRESS');

/** The address that `--address` names. */
export function addressOf(text: string): string {
  const read = readPaperAddress(text);
  if (read.ok) return read.value;
  throw new Refusal(`--address: ${read.error}`, 2);
}

/** The code of a sheet that is about a setup; `beyond` is what the setup's link does not hold. */
export const setupCode = (setup: Setup, address: string, beyond?: string): SheetCode => ({
  address,
  link: linkText({ kind: 'setup', text: JSON.stringify(setupFileOf(setup)) }),
  opens: 'this setup',
  ...(beyond === undefined ? {} : { beyond }),
});

/**
 * The code of a sheet about a piece, with its chords and preferences. A setup that comes with the program is named
 * by its id; what stands in a file is not in the link.
 */
export function pieceCode(
  { piece, wishes, named, setup }: { piece: Piece; wishes: WishTexts; named: string; setup: Setup },
  address: string,
): SheetCode {
  const given = WISH_PARTS.flatMap((part) =>
    (wishes[part] ?? '') === '' ? [] : [[part, wishes[part]] as const],
  );
  const id = isBuiltInId(named) ? named : setup.name;
  const documentOf = (tune: string | undefined, parts: typeof given): string =>
    progressionDocument({
      ...{ setup: id, chords: writePiece(piece).trimEnd(), tune },
      wishes: Object.fromEntries(parts),
    });
  const tune = tuneOf(piece);
  return codeOfPiece(
    {
      whole: documentOf(tune, given),
      ...(tune === undefined
        ? {}
        : // what is asked of single notes has nothing to speak of where they are not there
          {
            chords: documentOf(
              undefined,
              given.filter(([part]) => part !== 'notes'),
            ),
          }),
    },
    { id: named, name: setup.name },
    address,
  );
}
