/**
 * What pitch a string sounds, for the tuner: first its period, then its partials, then the lowest
 * partial of the stiff string that they fit best. Pure: samples in, a reading out.
 */
import { LEAST_SHARE_NEAR, MAINS, TOO_NEAR_HZ, humBeside, linesOf, without, type Hum } from './hum';
import { jointly, type Joint } from './jointly';
import { lowered, type Low } from './lowRate';
import { measure, type Partial } from './partials';
import { periodOf } from './period';
import { partialAt, type Stiff } from './stiff';

export interface Heard {
  /** The lowest partial of what sounds. */
  readonly hz: number;
  /** How well it repeats, 0 to 1. */
  readonly clarity: number;
  /** Root mean square of the last twentieth of a second; 1 is full scale. */
  readonly level: number;
  /** More than one note sounds, so that the pitch says nothing. */
  readonly several: boolean;
  /** Mains hum sounds along; it is taken out of the pitch. */
  readonly hum?: 50 | 60;
  /**
   * Hum of this mains lies, or would lie, so on the string that the pitch could be some cents off: the
   * sound itself cannot tell.
   */
  readonly masked?: 50 | 60;
  /** It is hum alone, and no string. */
  readonly alone?: true;
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
interface Reading {
  readonly string: Stiff;
  readonly clarity: number;
  readonly several: boolean;
}

function read(samples: Float32Array, sampleRate: number, wantedHz?: number): Reading | undefined {
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

/** As near as this to the mains or its double, in hertz, what seems a string may be hum. */
const PHANTOM_HZ = 2;
/** Less than this part of the energy left without hum is no string. */
const LEAST_LEFT = 0.1;
/** A string fades; what loses less than this part of its energy in a fifth of a second is hum. */
const MOST_FADING = 0.05;
/** A target as near as this to the mains is believed all the same, in cents. */
const TARGET_CENTS = 25;
/** The mains of some country, or its double, that lies nearest to a pitch. */
const nearestMains = (hz: number): number =>
  [...MAINS, ...MAINS.map((mains) => 2 * mains)].reduce((best, each) =>
    Math.abs(each - hz) < Math.abs(best - hz) ? each : best,
  );

const energyOf = (samples: Float32Array): number =>
  samples.reduce((sum, each) => sum + each * each, 0);

/** Whole periods of either mains, so that hum has the same energy in every such stretch. */
const STEADY_S = 0.1;

function isFading(samples: Float32Array, sampleRate: number): boolean {
  const stretch = Math.min(Math.round(STEADY_S * sampleRate), Math.floor(samples.length / 2));
  const [before, after] = [samples.subarray(0, stretch), samples.subarray(-stretch)];
  return energyOf(after) < (1 - MOST_FADING) * energyOf(before);
}

const partialsOf = ({ string }: Reading): number[] =>
  Array.from({ length: COUNTED }, (_, i) => partialAt(string, i + 1));

/**
 * A second look at what may be no string, since hum can seem to be one, or the lowest partial of one two
 * octaves down, or another string beside: the reading without what hums on the lines of the mains; hum
 * alone where nothing else is left.
 */
function secondLook(
  samples: Float32Array,
  sampleRate: number,
  first: Reading,
  wantedHz?: number,
): Reading | Hum {
  const mains = nearestMains(first.string.hz);
  const phantom = Math.abs(first.string.hz - mains) < PHANTOM_HZ;
  if (!phantom && !first.several) return first;
  const partials = first.several
    ? []
    : partialsOf(first).filter((hz) => Math.abs(hz - mains * Math.round(hz / mains)) > PHANTOM_HZ);
  const hum = humBeside(samples, sampleRate, partials);
  if (hum === undefined) return first;
  const clean = without(samples, sampleRate, hum.tones);
  const wantedThere =
    wantedHz !== undefined &&
    Math.abs(1200 * Math.log2(wantedHz / nearestMains(wantedHz))) < TARGET_CENTS;
  const left = energyOf(clean) / energyOf(samples);
  if (phantom && !wantedThere && left < LEAST_LEFT && !isFading(samples, sampleRate)) return hum;
  const second = read(clean, sampleRate, wantedHz);
  const other = second !== undefined && second.string.hz > 1.5 * first.string.hz;
  return other && !second.several ? second : first;
}

/** Hum that lies on a partial is told where the fit is as sure of it as this, in standard errors. */
const SURE_OF_HUM = 12;
/** A pitch that hum leaves less sure than this, in cents, is not one to tune by: two are in tune. */
const MOST_UNSURE = 0.75;
/** Lines of the mains that may hum without their neighbours: the mains itself and its double. */
const ALONE = 2;

const isNear = (string: Stiff, line: number): boolean =>
  Math.abs(partialAt(string, Math.max(1, Math.round(line / string.hz))) - line) < TOO_NEAR_HZ;

/** The mains that may hide in the strongest partials of a low string, if there is one. */
const mainsIn = (string: Stiff): 50 | 60 | undefined =>
  MAINS.find((mains) => linesOf(mains).some((line, k) => k < ALONE && isNear(string, line)));

/**
 * Lines that are taken as humming beside a string: those that were heard, and of those that lie on its
 * partials, where nothing can be heard of them, the lowest and the neighbours of what was heard.
 */
function hummingLines(string: Stiff, mains: number, hum: Hum | undefined): number[] {
  const heard = (line: number): boolean => hum?.tones.some(({ hz }) => hz === line) ?? false;
  return linesOf(mains).filter(
    (line, k) =>
      heard(line) ||
      (isNear(string, line)
        ? k < ALONE || heard(line - mains) || heard(line + mains)
        : hum !== undefined),
  );
}

/**
 * Could the pitch be another one if every line of the mains that lies on the string hummed? Right on the
 * lines nothing in the sound decides between the two.
 */
function isMasked(low: Low, guess: Stiff, mains: number, as: Joint): boolean {
  const covered = linesOf(mains).filter((line) => isNear(guess, line));
  if (covered.length === 0) return false;
  const lines = [...new Set([...as.hum.map(({ hz }) => hz), ...covered])];
  const other = lines.length === as.hum.length ? as : jointly(low, as.string, lines);
  if (other === undefined) return false;
  const apart = Math.abs(1200 * Math.log2(partialAt(other.string, 1) / partialAt(as.string, 1)));
  return Math.max(apart, as.cents, other.cents) > MOST_UNSURE;
}

/** The reading with hum taken out of it, where there is any; else as it was. */
function besideHum(
  raw: Float32Array,
  sampleRate: number,
  heardAs: (reading: Reading) => Heard,
  first: Reading,
  wantedHz?: number,
): Heard {
  const hum = humBeside(raw, sampleRate, partialsOf(first));
  const mains = hum?.hz ?? mainsIn(first.string);
  if (mains === undefined) return heardAs(first);
  const clean =
    hum === undefined ? undefined : read(without(raw, sampleRate, hum.tones), sampleRate, wantedHz);
  const reading = clean ?? first;
  const low = lowered(raw, sampleRate);
  const lines = hummingLines(reading.string, mains, hum);
  const joint = jointly(low, reading.string, lines);
  const power = energyOf(raw) / raw.length;
  const masked = joint !== undefined && isMasked(low, reading.string, mains, joint);
  const there =
    hum !== undefined ||
    (!masked &&
      joint?.hum.some(({ a, b, error }) => {
        const size = Math.hypot(a, b);
        return size > SURE_OF_HUM * error && size * size > 2 * LEAST_SHARE_NEAR * power;
      }));
  const told = masked ? { masked: mains } : {};
  if (!there) return { ...heardAs(first), ...told };
  const string = joint?.string ?? reading.string;
  return { ...heardAs({ ...reading, string }), hum: mains, ...told };
}

/**
 * What sounds at the end of some samples; nothing where it is silent or has no pitch. Mains hum is taken
 * out of the pitch and told; where it lies on so many partials that this cannot be, `masked` says so.
 * `wantedHz` is the pitch that is to be tuned, if one is: of octaves it decides.
 */
export function detect(
  samples: Float32Array,
  sampleRate: number,
  wantedHz?: number,
): Heard | undefined {
  const level = levelOf(samples, sampleRate);
  if (level < SILENCE) return undefined;
  const from = Math.max(0, samples.length - Math.round(LISTEN_S * sampleRate));
  const raw = samples.subarray(from);
  const first = read(raw, sampleRate, wantedHz);
  if (first === undefined) return undefined;
  const heardAs = ({ string, clarity, several }: Reading): Heard => ({
    hz: partialAt(string, 1),
    clarity,
    level,
    several,
  });
  const heard = secondLook(raw, sampleRate, first, wantedHz);
  if (!('string' in heard)) return { ...heardAs(first), hum: heard.hz, alone: true };
  return besideHum(raw, sampleRate, heardAs, heard, wantedHz);
}
