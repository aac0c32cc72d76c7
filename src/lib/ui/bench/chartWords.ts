/** A cell of the chart in words, for a screen reader. */
import { FIRST_CONTROL, GAUGE, OPEN } from './chartKeys';
import type { ChartView } from './chartView';

/** "A on string 5: raised 2 semitones to C sharp 4". */
export function cellWords(chart: ChartView, row: number, column: number): string {
  const string = chart.rows[row - 1];
  if (string === undefined) return '';
  if (column === OPEN) return `String ${row}, open: ${string.spokenOpen}`;
  if (column === GAUGE) return `String ${row}: ${string.spokenWire}`;
  const index = column - FIRST_CONTROL;
  return `${chart.controls[index]?.id ?? ''} on string ${row}: ${string.cells[index]?.spoken ?? ''}`;
}
