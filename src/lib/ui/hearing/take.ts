/** What was heard of each string since listening began, for the trace and for the sum of a take. */

/** One string at one reading. */
export interface Reading {
  readonly atMs: number;
  readonly cents: number;
}

/** A string over a take. */
export interface StringTake {
  /** Mean of how far it was off, sharp or flat, in cents. */
  readonly average: number;
  /** The farthest it was off, in cents, sharp or flat. */
  readonly worst: number;
}

/** So many milliseconds of each string are drawn. */
const TRACE_MS = 12_000;
/** Readings of a string that are remembered: an hour. */
const MOST = 18_000;
/** Readings by string, oldest first. */
export type Take = readonly (readonly Reading[])[];

/** A take with one more reading of those strings that sound. */
export const heardMore = (take: Take, cents: readonly (number | undefined)[], atMs: number): Take =>
  cents.map((each, at) => {
    const before = take[at] ?? [];
    return each === undefined ? before : [...before.slice(-MOST), { atMs, cents: each }];
  });

/** Readings of a string over a whole take, summed up: how many, how far off altogether, the farthest. */
export interface StringTotal {
  readonly count: number;
  readonly off: number;
  readonly worst: number;
}
/** By string number, over chord after chord. */
export type Totals = ReadonlyMap<number, StringTotal>;

/** Totals with one more reading of a chord's strings. */
export function totalsMore(
  totals: Totals,
  strings: readonly number[],
  cents: readonly (number | undefined)[],
): Totals {
  const more = new Map(totals);
  cents.forEach((each, at) => {
    const string = strings[at];
    if (each === undefined || string === undefined) return;
    const { count, off, worst } = more.get(string) ?? { count: 0, off: 0, worst: 0 };
    more.set(string, {
      count: count + 1,
      off: off + Math.abs(each),
      worst: Math.abs(each) > Math.abs(worst) ? each : worst,
    });
  });
  return more;
}

/** Each string over the whole take, in the order of their numbers. */
export const wholeTake = (totals: Totals): readonly ({ readonly string: number } & StringTake)[] =>
  [...totals]
    .sort(([a], [b]) => a - b)
    .map(([string, { count, off, worst }]) => ({ string, average: off / count, worst }));

/** The sum of a string's readings; nothing where it never sounded. */
export function sumOf(readings: readonly Reading[]): StringTake | undefined {
  if (readings.length === 0) return undefined;
  const off = readings.map(({ cents }) => cents);
  return {
    average: off.reduce((sum, each) => sum + Math.abs(each), 0) / off.length,
    worst: off.reduce((worst, each) => (Math.abs(each) > Math.abs(worst) ? each : worst), 0),
  };
}

/** Cents at the top and foot of the trace. */
const TRACE_CENTS = 25;

/** After so many milliseconds without a reading the line is broken. */
const BREAK_MS = 1200;

/**
 * The trace of a string as lines in a box of 100 by 100, the last moment at the right: one line for each
 * stretch in which it sounded. A single reading is a short line.
 */
export function traceOf(readings: readonly Reading[], nowMs: number): string[] {
  const lines: string[] = [];
  let lastMs = -Infinity;
  for (const { atMs, cents } of readings) {
    if (nowMs - atMs >= TRACE_MS) continue;
    const x = 100 - (100 * (nowMs - atMs)) / TRACE_MS;
    const y = 50 - (50 * Math.max(-TRACE_CENTS, Math.min(TRACE_CENTS, cents))) / TRACE_CENTS;
    const point = `${x.toFixed(1)},${y.toFixed(1)}`;
    if (atMs - lastMs > BREAK_MS || lines.length === 0)
      lines.push(`${Math.max(0, x - 1).toFixed(1)},${y.toFixed(1)} ${point}`);
    else lines[lines.length - 1] += ` ${point}`;
    lastMs = atMs;
  }
  return lines;
}
