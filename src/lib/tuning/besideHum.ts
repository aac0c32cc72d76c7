/**
 * A reading where mains hum sounds along: what is hum and no string, the pitch with hum taken out of it, and
 * whether hum could lie on the string unheard.
 */
import { LEAST_SHARE_NEAR, MAINS, TOO_NEAR_HZ, humBeside, linesOf, without, type Hum } from './hum';
import { jointly, type Joint } from './jointly';
import { lowered, type Low } from './lowRate';
import { partialsOf, read, type Reading } from './reading';
import { partialAt, type Stiff } from './stiff';

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
  nearestOf(hz, [...MAINS, ...MAINS.map((mains) => 2 * mains)]);

const nearestOf = (hz: number, lines: readonly number[]): number =>
  lines.reduce((best, each) => (Math.abs(each - hz) < Math.abs(best - hz) ? each : best));

const energyOf = (samples: Float32Array): number =>
  samples.reduce((sum, each) => sum + each * each, 0);

/** Whole periods of either mains, so that hum has the same energy in every such stretch. */
const STEADY_S = 0.1;

function isFading(samples: Float32Array, sampleRate: number): boolean {
  const stretch = Math.min(Math.round(STEADY_S * sampleRate), Math.floor(samples.length / 2));
  const [before, after] = [samples.subarray(0, stretch), samples.subarray(-stretch)];
  return energyOf(after) < (1 - MOST_FADING) * energyOf(before);
}

/**
 * A second look at what may be no string, since hum can seem to be one, or the lowest partial of one two
 * octaves down, or another string beside: the reading without what hums on the lines of the mains; hum
 * alone where nothing else is left.
 */
export function secondLook(
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

/** A string that leaves over so many times as much without a buzz as with it has that buzz on it. */
const LEAST_GAIN = 10;

/**
 * The string with all lines of the mains, where those together account for what it cannot: a buzz whose every
 * line lies on a partial is heard on none of them alone.
 */
function wholeBuzz(
  low: Low,
  guess: Stiff,
  mains: number,
  few: Joint | undefined,
): Joint | undefined {
  const whole = jointly(low, guess, linesOf(mains));
  return few !== undefined && whole !== undefined && LEAST_GAIN * whole.off < few.off
    ? whole
    : undefined;
}

/**
 * Under a buzz, nearer to a line than this, in hertz, the way a string falls is taken for a part of the hum: its
 * pitch was found up to a cent and a half off with made sounds.
 */
const ON_HZ = 0.2;

const isOn = ({ string }: Joint, mains: number): boolean =>
  Math.abs(string.hz - nearestOf(string.hz, [mains, 2 * mains])) < ON_HZ;

/** A reading that hum was asked for. */
export interface Cleared {
  readonly reading: Reading;
  /** Hums along, and is taken out of the reading. */
  readonly hum?: 50 | 60;
  /** Lies, or would lie, so on the string that the pitch could be another. */
  readonly masked?: 50 | 60;
}

/** The reading with hum taken out of it, where there is any; else as it was. */
export function besideHum(
  raw: Float32Array,
  sampleRate: number,
  first: Reading,
  wantedHz?: number,
): Cleared {
  const hum = humBeside(raw, sampleRate, partialsOf(first));
  const mains = hum?.hz ?? mainsIn(first.string);
  if (mains === undefined) return { reading: first };
  const clean =
    hum === undefined ? undefined : read(without(raw, sampleRate, hum.tones), sampleRate, wantedHz);
  const reading = clean ?? first;
  const low = lowered(raw, sampleRate);
  const lines = hummingLines(reading.string, mains, hum);
  const few = jointly(low, reading.string, lines);
  const whole = hum === undefined ? wholeBuzz(low, reading.string, mains, few) : undefined;
  const joint = whole ?? few;
  const power = energyOf(raw) / raw.length;
  const masked =
    joint !== undefined &&
    (isMasked(low, reading.string, mains, joint) || (whole !== undefined && isOn(whole, mains)));
  const there =
    hum !== undefined ||
    whole !== undefined ||
    (!masked &&
      joint?.hum.some(({ a, b, error }) => {
        const size = Math.hypot(a, b);
        return size > SURE_OF_HUM * error && size * size > 2 * LEAST_SHARE_NEAR * power;
      }));
  const told = masked ? { masked: mains } : {};
  if (!there) return { reading: first, ...told };
  const string = joint?.string ?? reading.string;
  return { reading: { ...reading, string }, hum: mains, ...told };
}
