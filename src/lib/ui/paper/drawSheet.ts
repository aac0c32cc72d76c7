/** Draws a bench sheet with the figures of strings, rigging and tuning, or with others; what draws it, fonts and all, is loaded with the first one. */
import type { Drawing, Paper } from '$lib/formats/drawing';
import type { SheetExtras } from '$lib/formats/sheetExtras';
import type { Setup } from '$lib/setup/setup';
import { chosenUnits } from '$lib/ui/kit/units.svelte';
import { setupCode } from './codes';

export async function drawSheet(
  setup: Setup,
  paper: Paper,
  extras?: SheetExtras,
): Promise<Drawing> {
  // asked for at once: whoever chooses other units has the sheet drawn again
  const units = chosenUnits.now;
  const [{ benchSheet }, { sheetFigures }, code] = await Promise.all([
    import('$lib/formats/benchSheet'),
    import('$lib/formats/sheetFigures'),
    setupCode(setup),
  ]);
  return benchSheet(setup, { paper, extras: extras ?? sheetFigures(setup, units), code, units });
}
