/**
 * What pitch a string sounds, for the tuner. Pure: samples in, a reading out.
 */
import { besideHum, secondLook } from './besideHum';
import { LISTEN_S, read } from './reading';
import { partialAt } from './stiff';

export { LISTEN_S } from './reading';

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

/** Quieter than this is silence: −66 dB of full scale. */
const SILENCE = 0.0005;

/** Root mean square of the last `seconds`. */
export function levelOf(samples: Float32Array, sampleRate: number, seconds = 0.05): number {
  const from = Math.max(0, samples.length - Math.round(seconds * sampleRate));
  let sum = 0;
  for (let i = from; i < samples.length; i++) sum += (samples[i] as number) ** 2;
  return Math.sqrt(sum / Math.max(1, samples.length - from));
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
  const { string, clarity, several } = first;
  const second = secondLook(raw, sampleRate, first, wantedHz);
  if (!('string' in second))
    return { hz: partialAt(string, 1), clarity, level, several, hum: second.hz, alone: true };
  const { reading, ...humming } = besideHum(raw, sampleRate, second, wantedHz);
  return {
    hz: partialAt(reading.string, 1),
    clarity: reading.clarity,
    level,
    several: reading.several,
    ...humming,
  };
}
