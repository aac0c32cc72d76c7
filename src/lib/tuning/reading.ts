/**
 * The string that sounds, as if nothing else could sound but other strings: first its period, then its
 * partials, then the stiff string that they fit best.
 */
import { measure, type Partial } from './partials';
import { periodOf } from './period';
import { partialAt, type Stiff } from './stiff';

/** Seconds of sound that a reading takes at most. */
export const LISTEN_S = 0.29;
/** Sixteen periods, but never less than this: more would only be slower. */
const SHORTEST_S = 0.12;
const PERIODS = 16;
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

/** A tone that is wanted decides between octaves as far off it as this, in cents. */
const WANTED_WITHIN = 250;
/** Wanted an octave higher: so much of the energy may lie in what a string an octave lower has alone. */
const MOST_BELOW = 0.2;
/** Wanted an octave lower: so much has to lie there. */
const LEAST_BELOW = 0.005;

/**
 * By what the pitch that was found is to be multiplied where the wanted one lies an octave or two from
 * it: a string that rings along, an octave off, makes either seem to be the note. What only the lower of
 * the two could sound decides whether the wanted one can be what was struck.
 */
function octaveTo(
  found: number,
  wanted: number,
  seenAt: (hz: number) => readonly Partial[],
): number {
  const octaves = Math.round(Math.log2(wanted / found));
  const apart = Math.abs(1200 * Math.log2(wanted / found) - 1200 * octaves);
  if (octaves === 0 || Math.abs(octaves) > 2 || apart > WANTED_WITHIN) return 1;
  const factor = 2 ** octaves;
  const ratio = 2 ** Math.abs(octaves);
  const partials = seenAt(Math.min(found, found * factor));
  const all = partials.reduce((sum, { energy }) => sum + energy, 0);
  const below = partials.reduce(
    (sum, { number, energy }) => sum + (number % ratio === 0 ? 0 : energy),
    0,
  );
  return (octaves > 0 ? below < MOST_BELOW * all : below > LEAST_BELOW * all) ? factor : 1;
}

/** The string that is heard, as if nothing else could sound but other strings. */
export interface Reading {
  readonly string: Stiff;
  readonly clarity: number;
  readonly several: boolean;
}

/** What is read at the end of some samples; nothing where nothing repeats. `wantedHz` decides between octaves. */
export function read(
  samples: Float32Array,
  sampleRate: number,
  wantedHz?: number,
): Reading | undefined {
  const period = periodOf(samples, sampleRate);
  if (period === undefined || period.clarity < LEAST_CLARITY) return undefined;

  let string: Stiff = { hz: period.hz, stiffness: 0 };
  const seconds = Math.min(LISTEN_S, Math.max(SHORTEST_S, PERIODS / string.hz));
  const guesses = (most: number, under: number): (readonly [number, number])[] =>
    Array.from({ length: most }, (_, i) => [i + 1, partialAt(string, i + 1)] as const).filter(
      ([, hz]) => hz < under,
    );
  const seenAt = (hz: number): readonly Partial[] => {
    string = { hz, stiffness: 0 };
    const look = { periodS: 1 / hz, seconds, apart: 0.12 };
    return measure(samples, sampleRate, guesses(2 * MEASURED, 5000), look).partials;
  };
  const found = period.hz * everyNth(seenAt(period.hz));
  const octave = wantedHz === undefined ? 1 : octaveTo(found, wantedHz, seenAt);
  string = { hz: found * octave, stiffness: 0 };

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
  return { string, clarity: period.clarity, several };
}

/** Frequencies of the partials that a string is heard by, in hertz. */
export const partialsOf = ({ string }: Reading): number[] =>
  Array.from({ length: COUNTED }, (_, i) => partialAt(string, i + 1));
