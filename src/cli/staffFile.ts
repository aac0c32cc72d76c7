/** Staff and tablature on paper, from the terminal: drawn without a page. */
import type { Piece } from '$lib/arrange/piece';
import type { StruckStep } from '$lib/arrange/strike';
import type { Drawing, Paper } from '$lib/formats/drawing';
import { PaperSheet } from '$lib/formats/paperSheet';
import { staffDrawing, staffOf } from '$lib/formats/staffPaper';
import type { SheetCode } from '$lib/formats/sheetCode';
import type { Setup } from '$lib/setup/setup';
import type { ChordSigns } from '$lib/theory/chordSigns';

/** What is drawn. */
export interface StaffAsked {
  readonly setup: Setup;
  readonly piece: Piece;
  readonly steps: readonly StruckStep[];
  readonly signs: ChordSigns;
}

/** What draws staves looks for these where a page has them. */
function withPage<T>(sheet: PaperSheet, draw: () => T): T {
  const asked: Readonly<Record<string, unknown>> = {
    document: sheet,
    navigator: { userAgent: '' },
  };
  const before = Object.keys(asked).map(
    (name) => [name, Object.getOwnPropertyDescriptor(globalThis, name)] as const,
  );
  for (const [name, value] of Object.entries(asked))
    Object.defineProperty(globalThis, name, { value, configurable: true });
  try {
    return draw();
  } finally {
    for (const [name, was] of before) {
      Reflect.deleteProperty(globalThis, name);
      if (was !== undefined) Object.defineProperty(globalThis, name, was);
    }
  }
}

/** The pages. */
export function drawnStaff(
  { setup, piece, steps, signs }: StaffAsked,
  paper: Paper,
  code: SheetCode,
): Drawing {
  const sheet = new PaperSheet();
  const tune = staffOf(setup, piece, steps, signs);
  return withPage(sheet, () => staffDrawing(tune, paper, sheet.body, code));
}
