/**
 * Strokes in a sound that goes on: where partials grow at once that were not there just before. A growth is
 * counted against the loudest of the neighbouring lines before it, so that strings that beat or a bar that
 * moves are none ("Maximum filter vibrato suppression for onset detection", Böck and Widmer, Digital Audio
 * Effects 2013).
 */
import { transformReal } from './fourier';
import { SoundRing } from './ring';
import { sizeOfLine } from './spectrum';

/** Samples of one look, and from one look to the next, at rates up to 50,000 a second. */
const WINDOW = 1024;
const HOP = 256;
/** A look is held against the one so many before it. */
const LAG = 4;
/** Lines that are looked at: up to about 6 kHz. */
const LINES = 128;
/** Of the loudness of late: what is quieter than this is felt little. */
const FELT = 0.01;
/** Looks in which the loudness of late falls by half: 0.8 s. */
const HALF_LOOKS = 150;
/** Growth, as a mean over the lines, that is a stroke whatever was before … */
const LEAST = 0.045;
/** … and so many times what it was of late. */
const RISES = 2.2;
/** Looks that are of late: a third of a second. */
const LATE = 60;
/** A stroke is the greatest growth of so many looks on both sides. */
const AROUND = 6;
/** Samples from a stroke to the end of the look in which the growth is greatest. */
const BEHIND = 700;
/** The stroke lies within so many seconds of there, where the slope of the sound rises most … */
const NEAR_S = 0.014;
/** … from so many seconds to as many after. */
const STEP_S = 0.004;
/** Quieter than this nothing is struck: −60 dB of full scale, as the size of a line. */
const AUDIBLE = 0.0004;
/** Strokes nearer than this, in seconds, are one: strings that are rolled. */
const ROLLED_S = 0.12;

/** A stroke, as numbers of samples from the beginning of the sound. */
export interface Stroke {
  /** When the first string of it is struck. */
  readonly at: number;
  /** When the last is. */
  readonly last: number;
}

const TAPER = Float64Array.from(
  { length: WINDOW },
  (_, i) => (0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / WINDOW)) / WINDOW,
);

/** What was before the very first look. */
const NOTHING = new Float64Array(LINES);

const mean = (values: readonly number[]): number =>
  values.reduce((sum, each) => sum + each, 0) / Math.max(1, values.length);

export class StrokeFinder {
  readonly #sampleRate: number;
  readonly #window = new Float64Array(WINDOW);
  /** Its even and odd samples while they are transformed. */
  readonly #even = new Float64Array(WINDOW / 2);
  readonly #odd = new Float64Array(WINDOW / 2);
  readonly #ring: SoundRing;
  #filled = 0;
  #total = 0;
  #loudest = 0;
  readonly #before: Float64Array[] = [];
  readonly #growth: number[] = [];
  #stroke: Stroke | undefined;

  constructor(sampleRate: number) {
    this.#sampleRate = sampleRate;
    this.#ring = new SoundRing(8 * WINDOW);
  }

  /** The latest stroke. It is known 40 ms after it fell. */
  get stroke(): Stroke | undefined {
    return this.#stroke;
  }

  push(block: Float32Array): void {
    for (const sample of block) {
      this.#window[WINDOW - HOP + this.#filled++] = sample;
      this.#total += 1;
      if (this.#filled < HOP) continue;
      this.#ring.push(Float32Array.from(this.#window.subarray(WINDOW - HOP)));
      this.#look();
      this.#window.copyWithin(0, HOP);
      this.#filled = 0;
    }
  }

  #look(): void {
    const [re, im] = [this.#even, this.#odd];
    for (let i = 0; i < WINDOW; i += 2) {
      re[i >> 1] = (this.#window[i] as number) * (TAPER[i] as number);
      im[i >> 1] = (this.#window[i + 1] as number) * (TAPER[i + 1] as number);
    }
    transformReal(re, im);
    let most = 0;
    const now = new Float64Array(LINES);
    for (let k = 1; k < LINES; k++) {
      now[k] = sizeOfLine(re, im, k);
      most = Math.max(most, now[k] as number);
    }
    this.#loudest = Math.max(most, this.#loudest * 0.5 ** (1 / HALF_LOOKS));
    const felt = FELT * Math.max(this.#loudest, AUDIBLE);
    for (let k = 1; k < LINES; k++) now[k] = Math.log10(1 + (now[k] as number) / felt);
    const past = this.#before[0] ?? NOTHING;
    let growth = 0;
    // what comes out of silence grows, the very first sound too
    for (let k = 1; k < LINES; k++) {
      const before = Math.max(past[k - 1] as number, past[k] as number, past[k + 1] ?? 0);
      growth += Math.max(0, (now[k] as number) - before);
    }
    this.#before.push(now);
    if (this.#before.length > LAG) this.#before.shift();
    this.#growth.push(most < AUDIBLE ? 0 : growth / LINES);
    if (this.#growth.length > LATE + 2 * AROUND + 1) this.#growth.shift();
    this.#decide();
  }

  /** Whether the look so many before this one was a stroke. */
  #decide(): void {
    const at = this.#growth.length - 1 - AROUND;
    const value = this.#growth[at];
    if (value === undefined || value < LEAST) return;
    const around = this.#growth.slice(Math.max(0, at - AROUND));
    if (around.indexOf(Math.max(...around)) !== Math.min(at, AROUND)) return;
    const late = this.#growth.slice(0, Math.max(0, at - AROUND));
    if (value < RISES * mean(late)) return;
    this.#struck(this.#steepest(Math.max(0, this.#total - AROUND * HOP - BEHIND)));
  }

  /** Where near a place the sound begins to rise most. */
  #steepest(near: number): number {
    const step = Math.round(STEP_S * this.#sampleRate);
    const reach = Math.round(NEAR_S * this.#sampleRate);
    const from = Math.max(this.#ring.oldest, near - reach - step);
    const sound = this.#ring.slice(from, near + reach + step);
    // of the squared slope, summed up to each sample
    const sums = new Float64Array(sound.length + 1);
    for (let i = 0; i < sound.length; i++)
      sums[i + 1] = (sums[i] as number) + ((sound[i] as number) - (sound[i - 1] ?? 0)) ** 2;
    const all = sums[sound.length] as number;
    let [best, most] = [near, 0];
    for (let i = step; i + step <= sound.length; i += 8) {
      const before = (sums[i] as number) - (sums[i - step] as number);
      const after = (sums[i + step] as number) - (sums[i] as number);
      const rise = after / (before + 0.01 * all);
      if (rise > most) [best, most] = [from + i, rise];
    }
    return best;
  }

  #struck(at: number): void {
    const before = this.#stroke;
    const rolled = before !== undefined && at - before.last < ROLLED_S * this.#sampleRate;
    this.#stroke = { at: rolled ? before.at : at, last: at };
  }
}
