/** What the strings say to a setup, as a person reads it in a terminal. */
import { BAND_SIGNS } from '$lib/strings/bands';
import { STRING_CAUTIONS } from '$lib/strings/cautions';
import type { StringWarning } from '$lib/strings/warnings';
import { print } from './out';

/** Nothing where all is fine. */
export function printWarnings(heading: string, warnings: readonly StringWarning[]): void {
  if (warnings.length === 0) return;
  print(`\n${heading}`);
  for (const { band, sentence } of warnings) print(`${BAND_SIGNS[band]} ${sentence}`);
  print(`⚠ ${STRING_CAUTIONS[1]}`);
}
