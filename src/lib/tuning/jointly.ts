/**
 * A string's pitch and mains hum from one fit. Hum is steady and its frequencies are known; a string's
 * partials fade, and lie together on one stiff string. A partial that lies on a line of the mains is not
 * thrown away: the fit itself tells how little it knows of it, and the others speak.
 */
import { leastSquares, type Solved } from './leastSquares';
import type { Low } from './lowRate';
import { partialAt, type Stiff } from './stiff';

/** The string that fits best beside hum. */
export interface Joint {
  readonly string: Stiff;
  /** Standard error of its pitch in cents, as far as noise and likeness to the hum make one. */
  readonly cents: number;
  /** The hum, `[line, a, b]` of a·cos + b·sin with time from the first sample, and how sure its size is. */
  readonly hum: readonly HumLine[];
  /** Sum of the squares of what neither accounts for, in the last round. */
  readonly off: number;
}

/** A line of the mains in the fit. */
export interface HumLine {
  readonly hz: number;
  readonly a: number;
  readonly b: number;
  /** Standard error of its amplitude. */
  readonly error: number;
}

/** A guess that is off by a few cents is a phase that turns too far in the first round. */
const ROUNDS = 3;
/** More partials than this say nothing new. */
const MOST_PARTIALS = 16;
/** Farther than this, in hertz, a round moves no partial: the next sees better. */
const MOST_MOVED = 1.5;
/** Against the sum of squares of a column: keeps the fit alive where a partial lies right on a line. */
const RIDGE = 1e-7;
/**
 * Stiffness is hardly known from two or three partials: it is pulled to what plain strings of this length
 * have, by the formula B = π³Ed⁴/(64TL²), 1e-5 (.011) to 2e-4 (.020).
 */
const USUAL_STIFFNESS = 7e-5;
const USUAL_SPREAD = 1e-4;
const STIFFEST = 2e-3;

/** One partial’s offset from where it was guessed, in hertz, and the variance of that. */
function offsetOf(
  { fit, spread }: Solved,
  at: number,
  noise: number,
): { readonly by: number; readonly variance: number } {
  const [a, b, c, d] = [0, 1, 2, 3].map((k) => fit[at + k] ?? 0) as [
    number,
    number,
    number,
    number,
  ];
  const size = a * a + b * b;
  // a partial δ higher than guessed is a·cos + b·sin + δt(b·cos − a·sin); what fades lies along a and b
  const by = (b * c - a * d) / size;
  const variance =
    noise *
    spread([
      [at, -d / size],
      [at + 1, c / size],
      [at + 2, b / size],
      [at + 3, -a / size],
    ]);
  return { by, variance };
}

/** The straight line F + S·n² through f(n)/n, with the usual stiffness as one more measure of S. */
function stiffThrough(
  measured: readonly { readonly n: number; readonly hz: number; readonly variance: number }[],
  guess: Stiff,
): { readonly string: Stiff; readonly error: number } {
  const sure = 1 / ((guess.hz / 2) * USUAL_SPREAD) ** 2;
  const usual = (guess.hz / 2) * USUAL_STIFFNESS;
  let [w, wx, wy, wxx, wxy] = [0, 0, 0, sure, sure * usual];
  for (const { n, hz, variance } of measured) {
    const weight = (n * n) / variance;
    const x = n * n;
    w += weight;
    wx += weight * x;
    wy += (weight * hz) / n;
    wxx += weight * x * x;
    wxy += (weight * x * hz) / n;
  }
  const determinant = w * wxx - wx * wx;
  const hz = (wy * wxx - wx * wxy) / determinant;
  const slope = (w * wxy - wx * wy) / determinant;
  return {
    string: { hz, stiffness: Math.max(0, Math.min(STIFFEST, (2 * slope) / hz)) },
    error: Math.sqrt(wxx / determinant),
  };
}

/**
 * The string near a guess, beside hum on `lines` in hertz; nothing where no partial lies low enough to be
 * measured. The variance of a partial has a floor of (0.003 Hz)²: real strings beat by so much.
 */
export function jointly(low: Low, guess: Stiff, lines: readonly number[]): Joint | undefined {
  const { x } = low;
  const half = (low.at(x.length - 1) - low.at(0)) / 2;
  const middle = low.at(0) + half;
  const wave = (hz: number, turn: number, slope: boolean): Float64Array =>
    Float64Array.from(x, (_, i) => {
      const t = low.at(i) - middle;
      return (slope ? t / half : 1) * Math.cos(2 * Math.PI * hz * t - turn);
    });
  const pair = (hz: number, slope: boolean): Float64Array[] => [
    wave(hz, 0, slope),
    wave(hz, Math.PI / 2, slope),
  ];
  const steady = lines.flatMap((hz) => pair(hz, false));
  let string = guess;
  let joint: Joint | undefined;
  for (let round = 0; round < ROUNDS; round++) {
    const numbers = Array.from({ length: MOST_PARTIALS }, (_, k) => k + 1).filter(
      (n) => partialAt(string, n) < low.below,
    );
    if (numbers.length === 0) return undefined;
    const own = numbers.flatMap((n) => {
      const hz = partialAt(string, n);
      return [...pair(hz, false), ...pair(hz, true)];
    });
    const columns = [...steady, ...own];
    const solved = leastSquares(columns, x, RIDGE);
    const noise = solved.off / Math.max(1, x.length - columns.length);
    const inHz = 2 * Math.PI * half;
    const measured = numbers.map((n, k) => {
      const { by, variance } = offsetOf(solved, steady.length + 4 * k, noise);
      const moved = Math.max(-MOST_MOVED, Math.min(MOST_MOVED, by / inHz));
      return { n, hz: partialAt(string, n) + moved, variance: variance / inHz ** 2 + FLOOR };
    });
    const found = stiffThrough(measured, string);
    string = found.string;
    joint = {
      string,
      off: solved.off,
      cents: (1200 / Math.LN2 / string.hz) * found.error,
      hum: lines.map((hz, k) => {
        const [p, q] = [solved.fit[2 * k] ?? 0, solved.fit[2 * k + 1] ?? 0];
        const turn = 2 * Math.PI * hz * middle;
        const gain = low.gainAt(hz);
        return {
          hz,
          a: (p * Math.cos(turn) - q * Math.sin(turn)) / gain,
          b: (p * Math.sin(turn) + q * Math.cos(turn)) / gain,
          error:
            Math.sqrt(noise * (solved.spread([[2 * k, 1]]) + solved.spread([[2 * k + 1, 1]]))) /
            gain,
        };
      }),
    };
  }
  return joint;
}

const FLOOR = 1e-5;
