/**
 * Mains hum under a string: 50 or 60 Hz and their multiples, which pickups and cables let in. Its
 * frequencies are known to a tenth of a hertz and its loudness does not change, while a string's partials
 * lie elsewhere and fade. So both are fitted at once by least squares, and the hum is taken away.
 */

import { leastSquares } from './leastSquares';
import { lowered } from './lowRate';

/** A steady tone a·cos(2π·hz·t) + b·sin(2π·hz·t), t in seconds from the first sample. */
export interface Tone {
  readonly hz: number;
  readonly a: number;
  readonly b: number;
}

/** What hums, and how loud. */
export interface Hum {
  /** The mains. */
  readonly hz: 50 | 60;
  readonly tones: readonly Tone[];
  /** Root mean square; 1 is full scale. */
  readonly level: number;
}

/** The mains of the world. */
export const MAINS = [50, 60] as const;
/** Multiples up to here are looked for: higher ones are faint in hum. */
const HIGHEST_HZ = 600;
/** The lines of a mains, in hertz. */
export const linesOf = (mains: number): number[] =>
  Array.from({ length: Math.floor(HIGHEST_HZ / mains) }, (_, k) => mains * (k + 1));
/** A tone that is less than this part of all that sounds is not worth taking away: −27 dB. */
const LEAST_SHARE = 2e-3;
/** Nearer to a partial than this, in hertz, the two are not told apart in three tenths of a second … */
export const TOO_NEAR_HZ = 1.2;
/** … and nearer than this, in hertz, a faint tone may be a piece of the partial itself. */
const NEAR_HZ = 4;
/** As a part of the sound: a tone near a partial that is louder than this is surely none of it. */
export const LEAST_SHARE_NEAR = 1e-2;

/** Against the sum of squares of a column, which is half the samples: keeps near likenesses from tearing. */
const RIDGE = 1e-4;

/**
 * Is a tone there all the time alike? What is left of the sound must not hold as much of it again in any
 * third of the time: a string beside the line, which no partial accounts for, beats against it.
 */
function isSteady(
  rest: Float64Array,
  [cos, sin]: readonly [Float64Array, Float64Array],
  [a, b]: readonly [number, number],
): boolean {
  const third = Math.floor(rest.length / 3);
  return [0, 1, 2].every((part) => {
    let re = 0;
    let im = 0;
    for (let i = part * third; i < (part + 1) * third; i++) {
      re += (rest[i] as number) * (cos[i] as number);
      im += (rest[i] as number) * (sin[i] as number);
    }
    return Math.hypot(re, im) * (2 / third) < MOST_UNSTEADY * Math.hypot(a, b);
  });
}

/** Against the tone itself. */
const MOST_UNSTEADY = 0.4;

/**
 * The hum in a sound beside the partials of a string, whose frequencies in hertz are nearly known;
 * nothing where there is none worth telling. A partial may grow or fade in a straight line.
 */
export function humBeside(
  samples: Float32Array,
  sampleRate: number,
  partials: readonly number[],
): Hum | undefined {
  const low = lowered(samples, sampleRate);
  const { x } = low;
  let all = 0;
  for (const each of samples) all += each * each;
  all /= samples.length;
  const nearest = (hz: number): number =>
    Math.min(...partials.map((partial) => Math.abs(partial - hz)));
  let best: Hum | undefined;
  let left = Infinity;
  for (const mains of MAINS) {
    const lines = linesOf(mains).filter((hz) => nearest(hz) > TOO_NEAR_HZ);
    const columns: Float64Array[] = [];
    const add = (hz: number, slope: boolean): void => {
      for (const turn of [0, Math.PI / 2])
        columns.push(
          Float64Array.from(x, (_, i) => {
            const along = slope ? (2 * i) / x.length - 1 : 1;
            return along * Math.cos(2 * Math.PI * hz * low.at(i) - turn);
          }),
        );
    };
    for (const hz of lines) add(hz, false);
    for (const hz of partials)
      if (hz < low.below) {
        add(hz, false);
        add(hz, true);
      }
    const { fit, rest, off } = leastSquares(columns, x, RIDGE);
    const tones = lines.flatMap((hz, k): Tone[] => {
      const pair = [columns[2 * k], columns[2 * k + 1]] as [Float64Array, Float64Array];
      const ab = [fit[2 * k], fit[2 * k + 1]] as [number, number];
      const gain = low.gainAt(hz);
      const tone = { hz, a: ab[0] / gain, b: ab[1] / gain };
      const least = nearest(hz) < NEAR_HZ ? LEAST_SHARE_NEAR : LEAST_SHARE;
      const loud = (tone.a ** 2 + tone.b ** 2) / 2 >= least * all;
      return loud && isSteady(rest, pair, ab) ? [tone] : [];
    });
    const power = tones.reduce((sum, { a, b }) => sum + (a * a + b * b) / 2, 0);
    if (off < left) {
      left = off;
      best = power < LEAST_SHARE * all ? undefined : { hz: mains, tones, level: Math.sqrt(power) };
    }
  }
  return best;
}

/** A sound without some tones. */
export function without(
  samples: Float32Array,
  sampleRate: number,
  tones: readonly Tone[],
): Float32Array {
  const out = samples.slice();
  for (const { hz, a, b } of tones) {
    const turn = (2 * Math.PI * hz) / sampleRate;
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    let [c, s] = [1, 0];
    for (let i = 0; i < out.length; i++) {
      out[i] = (out[i] as number) - a * c - b * s;
      [c, s] = [c * cos - s * sin, s * cos + c * sin];
    }
  }
  return out;
}
