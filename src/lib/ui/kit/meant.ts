/** What was likely meant by a text that cannot be read. */
import { prettySymbol } from '$lib/theory/display';

/** One reading: as it is said, and the whole text of the field that has it. */
export interface Meant {
  readonly shown: string;
  readonly text: string;
}

/** Readings that are the whole text of a field; none where a fault tells none. */
export const meantWhole = (readings: readonly string[] | undefined): readonly Meant[] =>
  (readings ?? []).map((text) => ({ shown: prettySymbol(text), text }));
