/** A row of holes as a field shows and takes it: lengths in the reader's unit, with commas between. */
import { fieldText, keptText } from '$lib/strings/fieldUnits';
import type { Units } from '$lib/strings/units';

/** `18, 23, 28`; empty where none is told. */
export const holesText = (holesMm: readonly number[] | undefined, units: Units): string =>
  (holesMm ?? []).map((mm) => fieldText(mm, 'length', units)).join(', ');

/** What was typed, in millimetres; what is no number stays as it was typed. */
export const keptHoles = (typed: string, units: Units): string =>
  typed
    .split(/[;,\s]+/)
    .filter(Boolean)
    .map((part) => keptText(part, 'length', units))
    .join(' ');
