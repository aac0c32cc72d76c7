/**
 * Mains hum under a string: 50 or 60 Hz and their multiples, which pickups and cables let in. Its
 * frequencies are known to a tenth of a hertz and its loudness does not change, while a string's partials
 * lie elsewhere and fade. So both are fitted at once by least squares, and the hum is taken away.
 */

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
/** Samples a second that are enough for that. */
const LOW_RATE = 1_600;
/** A tone that is less than this part of all that sounds is not worth taking away: −27 dB. */
const LEAST_SHARE = 2e-3;
/** Nearer to a partial than this, in hertz, the two are not told apart in three tenths of a second … */
const TOO_NEAR_HZ = 1.2;
/** … and nearer than this only a tone that is louder than this part is surely no piece of the partial. */
const NEAR_HZ = 4;
const LEAST_SHARE_NEAR = 1e-2;

/** Samples at a low rate, each a smooth mean (Blackman) of those around it. */
interface Low {
  readonly x: Float64Array;
  /** Seconds of each sample from the first of the sound. */
  readonly at: (index: number) => number;
  /** Nothing above this is left, in hertz. */
  readonly below: number;
  /** How much of a tone is left at this rate. */
  readonly gainAt: (hz: number) => number;
}

function lowered(samples: Float32Array, sampleRate: number): Low {
  const step = Math.max(1, Math.floor(sampleRate / LOW_RATE));
  // six times as long as a sample: what lies above is 58 dB down, and folds into nothing
  const taps = 6 * step;
  const weights = Float64Array.from({ length: taps }, (_, i) => {
    const turn = (2 * Math.PI * (i + 0.5)) / taps;
    return (0.42 - 0.5 * Math.cos(turn) + 0.08 * Math.cos(2 * turn)) / (0.42 * taps);
  });
  const length = Math.max(0, Math.floor((samples.length - taps) / step) + 1);
  const x = new Float64Array(length);
  for (let i = 0; i < length; i++) {
    let sum = 0;
    for (let j = 0; j < taps; j++)
      sum += (weights[j] as number) * (samples[i * step + j] as number);
    x[i] = sum;
  }
  return {
    x,
    below: sampleRate / step / 2,
    at: (index) => (index * step + (taps - 1) / 2) / sampleRate,
    gainAt: (hz) =>
      weights.reduce(
        (sum, weight, i) =>
          sum + weight * Math.cos((2 * Math.PI * hz * (i - (taps - 1) / 2)) / sampleRate),
        0,
      ),
  };
}

/** Least squares by the normal equations (Cholesky); a little is added to what cannot be told apart. */
function leastSquares(columns: readonly Float64Array[], x: Float64Array): Float64Array {
  const n = columns.length;
  const l = Array.from({ length: n }, () => new Float64Array(n));
  const right = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const one = columns[i] as Float64Array;
    for (let j = 0; j <= i; j++) {
      const other = columns[j] as Float64Array;
      let sum = 0;
      for (let k = 0; k < x.length; k++) sum += (one[k] as number) * (other[k] as number);
      (l[i] as Float64Array)[j] = sum;
    }
    let sum = 0;
    for (let k = 0; k < x.length; k++) sum += (one[k] as number) * (x[k] as number);
    right[i] = sum;
  }
  const ridge = RIDGE * x.length;
  for (let i = 0; i < n; i++) {
    const row = l[i] as Float64Array;
    for (let j = 0; j <= i; j++) {
      const other = l[j] as Float64Array;
      let sum = (row[j] as number) + (i === j ? ridge : 0);
      for (let k = 0; k < j; k++) sum -= (row[k] as number) * (other[k] as number);
      row[j] = i === j ? Math.sqrt(Math.max(sum, ridge)) : sum / (other[j] as number);
    }
  }
  const y = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = right[i] as number;
    for (let k = 0; k < i; k++) sum -= ((l[i] as Float64Array)[k] as number) * (y[k] as number);
    y[i] = sum / ((l[i] as Float64Array)[i] as number);
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = y[i] as number;
    for (let k = i + 1; k < n; k++) sum -= ((l[k] as Float64Array)[i] as number) * (y[k] as number);
    y[i] = sum / ((l[i] as Float64Array)[i] as number);
  }
  return y;
}

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
    const lines = Array.from(
      { length: Math.floor(HIGHEST_HZ / mains) },
      (_, k) => mains * (k + 1),
    ).filter((hz) => nearest(hz) > TOO_NEAR_HZ);
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
    const fit = leastSquares(columns, x);
    const rest = x.slice();
    for (const [k, column] of columns.entries())
      for (let i = 0; i < rest.length; i++)
        rest[i] = (rest[i] as number) - (column[i] as number) * (fit[k] as number);
    const off = rest.reduce((sum, each) => sum + each * each, 0);
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
