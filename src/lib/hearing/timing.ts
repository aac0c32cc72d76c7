/** Strokes against the times at which they were due. All times are in seconds of one clock. */

/** A stroke in time. */
export interface Timed {
  /** When it was due. */
  readonly due: number;
  /** Milliseconds that it came late; negative is early. */
  readonly lateMs: number;
}

/** What the strokes of a take come to. */
export interface Timing {
  readonly strokes: readonly Timed[];
  /** The middle of them: how early or late the hand is as a whole, in milliseconds. */
  readonly middleMs: number;
  /** The middle of how far they are from that, in milliseconds. */
  readonly spreadMs: number;
}

const middle = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1
    ? (sorted[half] ?? 0)
    : ((sorted[half - 1] ?? 0) + (sorted[half] ?? 0)) / 2;
};

/**
 * Each stroke against the nearest due time, of strokes that were heard `delay` seconds after they fell. Those
 * that fell half a beat and more before the first, or after the last, are nobody's.
 */
export function timingOf(
  struck: readonly number[],
  due: readonly number[],
  delay: number,
): Timing | undefined {
  const [first, second] = due;
  if (first === undefined) return undefined;
  const half = second === undefined ? Infinity : (second - first) / 2;
  const last = due.at(-1) ?? first;
  const strokes = struck.flatMap((heard): Timed[] => {
    const at = heard - delay;
    if (at < first - half || at > last + half) return [];
    const nearest = due.reduce((best, each) =>
      Math.abs(each - at) < Math.abs(best - at) ? each : best,
    );
    return [{ due: nearest, lateMs: (at - nearest) * 1000 }];
  });
  if (strokes.length === 0) return undefined;
  const middleMs = middle(strokes.map(({ lateMs }) => lateMs));
  return {
    strokes,
    middleMs,
    spreadMs: middle(strokes.map(({ lateMs }) => Math.abs(lateMs - middleMs))),
  };
}
