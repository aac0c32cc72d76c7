/**
 * What pitch a string sounds, for the tuner: first its period, then its partials, then the lowest
 * partial of the stiff string that they fit best. Pure: samples in, a reading out.
 */
import { measure, type Partial } from './partials';
import { periodOf } from './period';

export interface Heard {
  /** The lowest partial of what sounds. */
  readonly hz: number;
  /** How well it repeats, 0 to 1. */
  readonly clarity: number;
  /** Root mean square of the last twentieth of a second; 1 is full scale. */
  readonly level: number;
  /** More than one note sounds, so that the pitch says nothing. */
  readonly several: boolean;
}

/** Seconds of sound that a reading takes at most. */
export const LISTEN_S = 0.29;
/** Sixteen periods, but never less than this: more would only be slower. */
const SHORTEST_S = 0.12;
const PERIODS = 16;
/** Quieter than this is silence: −66 dB of full scale. */
const SILENCE = 0.0005;
/** What repeats less is no string. */
const LEAST_CLARITY = 0.5;
/** Partials that are measured for the pitch; higher ones are weak and lie where the string is stiff. */
const MEASURED = 6;
/** Partials that are counted when it is asked how much of the sound they explain. */
const COUNTED = 24;
/** A string that explains less of a clear sound than this has another beside it. */
const LEAST_EXPLAINED = 0.7;
/** Steel strings are not stiffer: B of f(n) = n f √(1 + B n²). */
const STIFFEST = 2e-3;

/** Root mean square of the last `seconds`. */
export function levelOf(samples: Float32Array, sampleRate: number, seconds = 0.05): number {
  const from = Math.max(0, samples.length - Math.round(seconds * sampleRate));
  let sum = 0;
  for (let i = from; i < samples.length; i++) sum += (samples[i] as number) ** 2;
  return Math.sqrt(sum / Math.max(1, samples.length - from));
}

/** A stiff string: partial n lies at n · hz · √(1 + stiffness · n²). */
interface Stiff {
  readonly hz: number;
  readonly stiffness: number;
}
const partialAt = ({ hz, stiffness }: Stiff, n: number): number =>
  n * hz * Math.sqrt(1 + stiffness * n * n);

/**
 * The stiff string that partials fit best. f(n)/n = hz·(1 + B n²/2) nearly, a straight line over n²,
 * weighted by how surely each is known: a partial n times as high tells the pitch n times as exactly.
 */
function fitted(partials: readonly Partial[]): Stiff {
  let [w, wx, wy, wxx, wxy] = [0, 0, 0, 0, 0];
  for (const { number, hz, energy } of partials) {
    const weight = energy * number * number;
    const x = number * number;
    const y = hz / number;
    w += weight;
    wx += weight * x;
    wy += weight * y;
    wxx += weight * x * x;
    wxy += weight * x * y;
  }
  const spread = w * wxx - wx * wx;
  const slope = spread > 1e-9 * w * wxx ? (w * wxy - wx * wy) / spread : 0;
  const flat = wy / w;
  const stiffness = Math.max(0, Math.min(STIFFEST, (2 * slope) / flat));
  return { hz: (wy - ((stiffness * flat) / 2) * wx) / w, stiffness };
}

/** Partials that lie where a string's do; a hum or another string does not. */
const CENTS_OFF = 20;
const belongs = (string: Stiff, { number, hz }: Partial): boolean =>
  Math.abs(1200 * Math.log2(hz / partialAt(string, number))) < CENTS_OFF;

/** Two notes at once seem like one an octave or more below, whose lowest partials are missing. */
function seemsSeveral(energies: readonly number[], total: number): boolean {
  const explained = energies.reduce((sum, each) => sum + each, 0);
  if (explained < LEAST_EXPLAINED * total) return true;
  const at = (n: number): number => (energies[n - 1] ?? 0) / explained;
  const faint = 1e-3;
  if (at(1) > faint) return false;
  // of a fifth there are partials 2, 3, 4, 6 …, of a fourth 3, 4, 6 …, of a third 4, 5, 8 …
  return at(2) < faint || (at(5) < faint && at(7) < faint);
}

/**
 * Where only every second (third …) partial sounds, the period that was found is two (three …) of the
 * string's: high notes have so few samples a period that the first peak can be missed.
 */
function everyNth(partials: readonly Partial[]): number {
  const all = partials.reduce((sum, { energy }) => sum + energy, 0);
  const between = (n: number): number =>
    partials.reduce((sum, { number, energy }) => sum + (number % n === 0 ? 0 : energy), 0);
  return [5, 4, 3, 2].find((n) => between(n) < 0.01 * all) ?? 1;
}

/** What sounds at the end of some samples; nothing where it is silent or has no pitch. */
export function detect(samples: Float32Array, sampleRate: number): Heard | undefined {
  const level = levelOf(samples, sampleRate);
  if (level < SILENCE) return undefined;
  const period = periodOf(samples, sampleRate);
  if (period === undefined || period.clarity < LEAST_CLARITY) return undefined;

  let string: Stiff = { hz: period.hz, stiffness: 0 };
  const seconds = Math.min(LISTEN_S, Math.max(SHORTEST_S, PERIODS / string.hz));
  const guesses = (most: number, under: number): (readonly [number, number])[] =>
    Array.from({ length: most }, (_, i) => [i + 1, partialAt(string, i + 1)] as const).filter(
      ([, hz]) => hz < under,
    );
  const look = { periodS: 1 / string.hz, seconds, apart: 0.12 };
  const { partials: seen } = measure(samples, sampleRate, guesses(2 * MEASURED, 5000), look);
  string = { hz: string.hz * everyNth(seen), stiffness: 0 };

  // a first look at few partials, close together; then at all, farther apart
  for (const [most, apart] of [
    [2, 0.12],
    [4, 0.25],
    [MEASURED, 0.5],
    [MEASURED, 0.5],
  ] as const) {
    const how = { periodS: 1 / string.hz, seconds, apart };
    const { partials } = measure(samples, sampleRate, guesses(most, 5000), how);
    const loudest = Math.max(...partials.map(({ energy }) => energy));
    const sure = partials.filter(
      (each) => each.energy > 1e-4 * loudest && (apart < 0.5 || belongs(string, each)),
    );
    if (sure.length > 0) string = fitted(sure);
  }
  const how = { periodS: 1 / string.hz, seconds, apart: 0.5 };
  const { partials, energy } = measure(
    samples,
    sampleRate,
    guesses(COUNTED, sampleRate / 2.2),
    how,
  );
  const several = seemsSeveral(
    partials.map((each) => each.energy),
    energy,
  );
  return { hz: partialAt(string, 1), clarity: period.clarity, level, several };
}
