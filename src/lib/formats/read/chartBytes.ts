/** The bytes of a file as the text of a chart. */
import { textFrom } from './text';

/** More is no chart; such a file need not be read. */
export const MOST_CHART_BYTES = 2_000_000;

/** A chart's text: in UTF-8 or UTF-16, else as spreadsheets of one region write it (Windows-1252). */
export function chartTextOf(bytes: Uint8Array): string {
  const text = textFrom(bytes);
  return text.ok ? text.value : new TextDecoder('windows-1252').decode(bytes);
}
