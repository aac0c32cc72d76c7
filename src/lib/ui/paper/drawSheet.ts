/** Draws a bench sheet; what draws it, fonts and all, is loaded with the first one. */
import type { Drawing, Paper } from '$lib/formats/drawing';
import type { SheetExtras } from '$lib/formats/sheetExtras';
import type { Setup } from '$lib/setup/setup';

export async function drawSheet(
  setup: Setup,
  paper: Paper,
  extras: SheetExtras = {},
): Promise<Drawing> {
  const { benchSheet } = await import('$lib/formats/benchSheet');
  return benchSheet(setup, { paper, extras });
}
