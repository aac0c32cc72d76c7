/** Draws a bench sheet with the figures of strings, rigging and tuning, or with others; what draws it, fonts and all, is loaded with the first one. */
import type { Drawing, Paper } from '$lib/formats/drawing';
import type { SheetExtras } from '$lib/formats/sheetExtras';
import type { Setup } from '$lib/setup/setup';

export async function drawSheet(
  setup: Setup,
  paper: Paper,
  extras?: SheetExtras,
): Promise<Drawing> {
  const [{ benchSheet }, { sheetFigures }] = await Promise.all([
    import('$lib/formats/benchSheet'),
    import('$lib/formats/sheetFigures'),
  ]);
  return benchSheet(setup, { paper, extras: extras ?? sheetFigures(setup) });
}
