/**
 * What the hand at the bar did, from how far each string is off: the bar lies as a straight line across the
 * strings, so many millimetres off its fret and turned so far. A string that lies off that line is off by
 * itself: a control short of its stop or beyond it.
 */

/** A string whose pitch is known. */
export interface StringOff {
  /** Place across the neck; from one string to the next it is 1. */
  readonly string: number;
  /** Cents that it is off. */
  readonly cents: number;
  /** Length that sounds, from the bar to the bridge, in millimetres. */
  readonly lengthMm: number;
}

/** Where the bar lies against where it should. */
export interface BarOff {
  /** Millimetres toward the bridge, which is sharp, in the middle of the strings; negative is flat. */
  readonly mm: number;
  /** Millimetres by which the bar lies farther toward the bridge at the far string than at the near one. */
  readonly turnMm: number;
  /** By string, in order: cents that it is off what this bar gives. */
  readonly apart: readonly number[];
}

/** A millimetre of turn is as unlikely as so many millimetres of one string. */
const TURN_COSTS = 0.6;
/** Strings within so many millimetres of the line make the line. */
const ON_LINE_MM = 0.5;

/** Millimetres toward the bridge by which a stop makes a string so many cents sharp. */
export const millimetresOf = (cents: number, lengthMm: number): number =>
  lengthMm * (1 - 2 ** (-cents / 1200));

/** A line across the strings. */
interface Line {
  readonly mm: number;
  /** Millimetres more from one string to the next. */
  readonly slope: number;
}

interface Point {
  readonly at: number;
  readonly mm: number;
}

/** The line of least squares. */
function lineThrough(points: readonly Point[]): Line {
  const count = points.length;
  const middle = points.reduce((sum, { at }) => sum + at, 0) / count;
  const mm = points.reduce((sum, each) => sum + each.mm, 0) / count;
  const wide = points.reduce((sum, { at }) => sum + (at - middle) ** 2, 0);
  const slope =
    wide === 0 ? 0 : points.reduce((sum, each) => sum + (each.at - middle) * each.mm, 0) / wide;
  return { mm: mm - slope * middle, slope };
}

/** Where the bar lies by the strings; nothing where none is heard. */
export function barOf(strings: readonly StringOff[]): BarOff | undefined {
  if (strings.length === 0) return undefined;
  const places = strings.map(({ string }) => string);
  const [far, near] = [Math.min(...places), Math.max(...places)];
  const middle = (far + near) / 2;
  const points = strings.map(({ string, cents, lengthMm }): Point => ({
    at: string - middle,
    mm: millimetresOf(cents, lengthMm),
  }));
  const on = (line: Line, at: number): number => line.mm + line.slope * at;
  // of all lines through two strings, and all straight ones through one, the likeliest
  const lines = points.flatMap((a, index) => [
    { mm: a.mm, slope: 0 },
    ...points.slice(index + 1).map((b) => lineThrough([a, b])),
  ]);
  const cost = (line: Line): number =>
    points.reduce((sum, { at, mm }) => sum + Math.abs(mm - on(line, at)), 0) +
    TURN_COSTS * Math.abs(line.slope) * (near - far);
  const likeliest = lines.reduce((best, line) => (cost(line) < cost(best) ? line : best));
  const line = lineThrough(
    points.filter(({ at, mm }) => Math.abs(mm - on(likeliest, at)) <= ON_LINE_MM),
  );
  return {
    mm: line.mm,
    turnMm: 0 - line.slope * (near - far),
    apart: strings.map(({ cents, lengthMm }, index) => {
      const mm = on(line, (points[index] as Point).at);
      return cents + 1200 * Math.log2(1 - mm / lengthMm);
    }),
  };
}
