/**
 * The chart's cells and the ways between them. Row 0 holds the controls' ids, row n string n; column
 * 0 the strings' numbers, 1 the open notes, 2 the gauges, 3 and on the controls.
 */
export interface Spot {
  readonly row: number;
  readonly column: number;
}

export const NUMBER = 0;
export const OPEN = 1;
export const GAUGE = 2;
export const FIRST_CONTROL = 3;

export interface ChartSize {
  readonly strings: number;
  readonly controls: number;
}

/** The nearest spot that the chart has; the corner over the strings has none. */
export function within({ row, column }: Spot, { strings, controls }: ChartSize): Spot {
  const last = FIRST_CONTROL + controls - 1;
  const inside = {
    row: Math.max(0, Math.min(strings, row)),
    column: Math.max(0, Math.min(last, column)),
  };
  return inside.row === 0 && inside.column < FIRST_CONTROL ? { ...inside, row: 1 } : inside;
}

/** Where a key leads; `undefined` where it leads nowhere, or out of the chart. */
export function spotByKey(
  key: string,
  { row, column }: Spot,
  size: ChartSize,
  { shift = false, whole = false }: { shift?: boolean; whole?: boolean } = {},
): Spot | undefined {
  const last = FIRST_CONTROL + size.controls - 1;
  const to = (spot: Spot): Spot | undefined => {
    const found = within(spot, size);
    return found.row === row && found.column === column ? undefined : found;
  };
  switch (key) {
    case 'ArrowLeft':
      return to({ row, column: column - 1 });
    case 'ArrowRight':
      return to({ row, column: column + 1 });
    case 'ArrowUp':
      return to({ row: row - 1, column });
    case 'ArrowDown':
      return to({ row: row + 1, column });
    case 'Home':
      return to({ row: whole ? 1 : row, column: row === 0 ? FIRST_CONTROL : 0 });
    case 'End':
      return to({ row: whole ? size.strings : row, column: last });
    case 'PageUp':
      return to({ row: 0, column });
    case 'PageDown':
      return to({ row: size.strings, column });
    case 'Tab':
      return shift ? before({ row, column }, size) : after({ row, column }, size);
    default:
      return undefined;
  }
}

function after({ row, column }: Spot, size: ChartSize): Spot | undefined {
  if (column < FIRST_CONTROL + size.controls - 1) return { row, column: column + 1 };
  return row < size.strings ? { row: row + 1, column: 0 } : undefined;
}

function before({ row, column }: Spot, size: ChartSize): Spot | undefined {
  const first = row === 0 ? FIRST_CONTROL : 0;
  if (column > first) return { row, column: column - 1 };
  if (row === 0 || (row === 1 && size.controls === 0)) return undefined;
  return { row: row - 1, column: FIRST_CONTROL + size.controls - 1 };
}

/** A key that types a sign, and so begins a new text in a cell. */
export const typesText = (event: Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'altKey'>) =>
  [...event.key].length === 1 &&
  event.key !== ' ' &&
  !event.ctrlKey &&
  !event.metaKey &&
  !event.altKey;
