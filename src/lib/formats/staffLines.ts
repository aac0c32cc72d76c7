/**
 * Which measures stand on a line of staves together: as few lines as hold them, about as full as one another, and
 * where that leaves a choice as the piece is phrased.
 */
import { MEASURES_A_LINE, SAME_PLACE, type Piece } from '$lib/arrange/piece';
import type { TuneMeasure } from '$lib/arrange/tuneMeasures';
import { startsEnding } from './tabForm';
import { filledBy, type Room } from './staffRoom';

/** Measures by their places among those that are written. */
export interface StaffLine {
  readonly orders: readonly number[];
  /** Pixels of it that they want. */
  readonly filled: number;
  /** The last one of a piece, and far from full: it ends where it ends. */
  readonly isShort: boolean;
}

/** A last line that is fuller than this is set to the full width like the others. */
const NEARLY_FULL = 0.65;
/** What an empty part of the last line is worth beside measures that are stretched to fill theirs. */
const SHORT = 0.5;
/** What it costs to begin a line within a phrase, and more between two measures that belong together. */
const IN_A_PHRASE = 0.1;
const IN_A_PAIR = 0.05;
/** A last measure alone on its line looks forgotten. */
const LAST_ALONE = 0.6;
/** The endings of a repeat stand on one line, where the eye jumps from the one to the other. */
const BETWEEN_ENDINGS = 0.2;

/** What a line costs that begins with a measure: nothing where the piece itself begins one. */
function beginnings({ measures: written }: Piece, measures: readonly TuneMeasure[]): number[] {
  const saysSo = written.some(({ newLine }) => newLine === true);
  let counted = 0;
  return measures.map(({ section, lasts, metre }, order) => {
    const [own, before] = [written[order], written[order - 1]];
    const isPickup = order === 0 && lasts < metre.beats - SAME_PLACE;
    if (section !== undefined) counted = 0;
    const place = counted;
    if (!isPickup) counted++;
    if (section !== undefined || own?.newLine === true) return 0;
    const ending = own !== undefined && startsEnding(own, before) ? own.endings : undefined;
    if (ending !== undefined) return ending.includes(1) ? IN_A_PAIR : BETWEEN_ENDINGS;
    if (!saysSo && place % MEASURES_A_LINE === 0) return 0;
    return IN_A_PHRASE + (place % 2 === 0 ? 0 : IN_A_PAIR);
  });
}

/** What of a line is not as it should be: measures that are stretched, or a last line that is short. */
function raggedness(filled: number, width: number, isLast: boolean): number {
  if (filled >= width || !Number.isFinite(width)) return 0;
  const part = filled / width;
  return isLast && part < NEARLY_FULL ? SHORT * (1 - part) ** 2 : (1 / part - 1) ** 2;
}

/** @param rooms what each measure wants */
export function staffLines(
  piece: Piece,
  measures: readonly TuneMeasure[],
  rooms: readonly Room[],
  width: number,
): StaffLine[] {
  interface Rest {
    readonly lines: number;
    readonly cost: number;
    readonly end: number;
    readonly filled: number;
  }
  const begins = beginnings(piece, measures);
  const count = rooms.length;
  /** From each measure on: the best lines. */
  const best: Rest[] = [];
  best[count] = { lines: 0, cost: 0, end: count, filled: 0 };
  for (let from = count - 1; from >= 0; from--) {
    let found: Rest | undefined;
    for (let end = from + 1; end <= count; end++) {
      const filled = filledBy(rooms.slice(from, end));
      // a measure that wants more than there is has a line of its own
      if (filled > width && end > from + 1) break;
      const after = best[end] as Rest;
      const next = end < count ? (begins[end] ?? 0) : 0;
      const alone = end === count && from === count - 1 && count > 1 ? LAST_ALONE : 0;
      const cost = after.cost + next + alone + raggedness(filled, width, end === count);
      const lines = after.lines + 1;
      if (
        found === undefined ||
        lines < found.lines ||
        (lines === found.lines && cost < found.cost)
      )
        found = { lines, cost, end, filled };
    }
    best[from] = found as Rest;
  }
  const all: StaffLine[] = [];
  for (let from = 0; from < count;) {
    const { end, filled } = best[from] as Rest;
    const isShort = end === count && filled < NEARLY_FULL * width;
    all.push({ orders: Array.from({ length: end - from }, (_, at) => from + at), filled, isShort });
    from = end;
  }
  return all;
}
