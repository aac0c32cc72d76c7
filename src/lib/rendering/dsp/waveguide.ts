/**
 * A struck string as a digital waveguide: a delay line one period long that is fed back through a
 * lowpass (Karplus and Strong 1983; Jaffe and Smith 1983, Computer Music Journal 7(2)). The delay has a
 * fraction, so that the pitch is exact and can glide, and the lowpass's own delay is taken off it.
 */
import { SOONER } from '$lib/strings/sustain';
import type { Sounder } from './sounder';

/** How a string is struck and picked up, and how it dies away. */
const STRING = {
  /** Where it is picked, as a share of the sounding length from the bridge. */
  pluck: 0.14,
  /** Where the pickup stands, likewise, and how much of the returning wave it takes off. */
  pickup: 0.11,
  pickupDepth: 0.72,
  /** Seconds that the pick takes to leave the string: a hard and a soft stroke. */
  hardPick: 0.00022,
  softPick: 0.0007,
  /** Level of the pick's own noise against the string. */
  scrape: 0.035,
  /** Seconds until partials at `mellowAt` hertz have fallen by 60 dB on a string of 330 Hz; thick ones are duller. */
  mellows: 1.5,
  mellowsSlope: 0.3,
  mellowAt: 4000,
  /** Thin strings are struck a little harder, so that all are heard alike. */
  balance: 0.3,
} as const;

/** The lowest pitch that the delay line has room for. */
const LOWEST_HZ = 15;
/** Taps of the interpolation: Lagrange's of the fifth order, exact where the ear is. */
const TAPS = 6;
/** Natural logarithm of 1000: a fall by 60 dB. */
const FALL_60 = Math.log(1000);

/** The struck string; it rings as long as its wire does. */
export class Waveguide implements Sounder {
  readonly #rate: number;
  readonly #line: Float32Array;
  readonly #mask: number;
  readonly #pulse: Float32Array;
  readonly #taps = new Float64Array(TAPS);
  #at = 0;
  /** Samples of the pulse that are still to come are those from `#pulsed` to `#pulseLength`. */
  #pulsed = 0;
  #pulseLength = 0;
  #low = 0;
  #harmonic = false;
  /** Seconds in which the fundamental falls by 60 dB, at a pitch (hertz). */
  #falls = 1;
  #fallsAt = 1;
  /** The loop for the pitch `#tunedTo`: delay (samples), the lowpass's feedback, the gain. */
  #tunedTo = 0;
  #delay = 0;
  #pole = 0;
  #gain = 0;
  #seed = 1;

  constructor(sampleRate: number) {
    this.#rate = sampleRate;
    const size = 2 ** Math.ceil(Math.log2(sampleRate / LOWEST_HZ + TAPS));
    this.#line = new Float32Array(size);
    this.#pulse = new Float32Array(size);
    this.#mask = size - 1;
  }

  clear(): void {
    this.#line.fill(0);
    this.#low = 0;
    this.#pulsed = 0;
    this.#pulseLength = 0;
    this.#tunedTo = 0;
  }

  /**
   * A string drawn aside at one point and let go sends out a rectangular wave of velocity, as long as
   * the pluck is far from the bridge. The pick's width rounds its edges.
   */
  start(hz: number, level: number, harmonic: boolean, falls: number): void {
    this.clear();
    this.#falls = falls;
    this.#fallsAt = hz;
    this.#harmonic = harmonic;
    const period = this.#rate / this.#clamped(hz);
    const length = Math.ceil(period);
    const { pluck, hardPick, softPick, scrape, balance } = STRING;
    const strength = level * (hz / 330) ** balance;
    // a touch at the middle leaves the even partials: the same wave twice in a period
    const waves = harmonic ? 2 : 1;
    const edge = Math.min(
      0.6,
      (waves * (softPick + (hardPick - softPick) * level) * this.#rate) / period,
    );
    let sum = 0;
    for (let i = 0; i < length; i++) {
      const phase = ((i * waves) / period) % 1;
      const scraped = scrape * this.#noise() * (1 - i / length);
      const sample = strength * (rise(phase / edge) - rise((phase - pluck) / edge) + scraped);
      this.#pulse[i] = sample;
      sum += sample;
    }
    // nothing may stand still in the loop, where it would take long to die away
    for (let i = 0; i < length; i++) this.#pulse[i] = (this.#pulse[i] ?? 0) - sum / length;
    this.#pulseLength = length;
    this.#pulsed = 0;
  }

  render(out: Float32Array, count: number, fromHz: number, toHz: number): void {
    this.#tune(fromHz);
    const fromDelay = this.#delay;
    const fromPeriod = this.#rate / this.#tunedTo;
    this.#tune(toHz);
    const gliding = this.#delay !== fromDelay;
    const delayStep = (this.#delay - fromDelay) / count;
    const periodStep = (this.#rate / this.#tunedTo - fromPeriod) / count;
    const line = this.#line;
    const mask = this.#mask;
    const taps = this.#taps;
    const pole = this.#pole;
    const gain = this.#gain;
    const { pickup, pickupDepth } = STRING;
    let at = this.#at;
    let low = this.#low;
    let first = this.#interpolate(this.#delay);
    for (let i = 0; i < count; i++) {
      if (gliding) first = this.#interpolate(fromDelay + delayStep * (i + 1));
      const oldest = at - first;
      const read =
        (taps[0] as number) * (line[oldest & mask] as number) +
        (taps[1] as number) * (line[(oldest - 1) & mask] as number) +
        (taps[2] as number) * (line[(oldest - 2) & mask] as number) +
        (taps[3] as number) * (line[(oldest - 3) & mask] as number) +
        (taps[4] as number) * (line[(oldest - 4) & mask] as number) +
        (taps[5] as number) * (line[(oldest - 5) & mask] as number);
      low = (1 - pole) * read + pole * low;
      const struck = this.#pulsed < this.#pulseLength ? (this.#pulse[this.#pulsed++] as number) : 0;
      const sample = gain * low + struck;
      line[at & mask] = sample;
      // what left the pickup towards the bridge comes back upside down
      const back = pickup * (fromPeriod + periodStep * (i + 1));
      const whole = Math.floor(back);
      const part = back - whole;
      const returned =
        (1 - part) * (line[(at - whole) & mask] as number) +
        part * (line[(at - whole - 1) & mask] as number);
      out[i] = sample - pickupDepth * returned;
      at = (at + 1) & mask;
    }
    this.#at = at;
    this.#low = low;
  }

  #clamped(hz: number): number {
    return Math.max(LOWEST_HZ, Math.min(this.#rate / 8, hz));
  }

  /** White noise, −1 … 1, the same in every run (the generator of Numerical Recipes). */
  #noise(): number {
    this.#seed = (Math.imul(this.#seed, 1_664_525) + 1_013_904_223) | 0;
    return this.#seed / 2 ** 31;
  }

  /**
   * Sets the loop so that the fundamental has the wanted pitch and falls as long as it should, and
   * partials at `mellowAt` fall sooner: a one-pole lowpass has the loss G between them where its
   * feedback a solves (1 − a)² = G² (1 − 2a cos ω + a²).
   */
  #tune(wanted: number): void {
    const hz = this.#clamped(wanted);
    if (hz === this.#tunedTo) return;
    this.#tunedTo = hz;
    const falls = this.#falls * (this.#fallsAt / hz) ** SOONER;
    // high partials always fall sooner than the fundamental
    const mellows = Math.min(0.8 * falls, STRING.mellows * (hz / 330) ** STRING.mellowsSlope);
    const mellowAt = Math.min(0.45 * this.#rate, Math.max(STRING.mellowAt, 3 * hz));
    const loss = Math.exp((-FALL_60 / hz) * (1 / mellows - 1 / falls)) ** 2;
    const b = (1 - loss * Math.cos((2 * Math.PI * mellowAt) / this.#rate)) / (1 - loss);
    const a = b - Math.sqrt(b * b - 1);
    const w = (2 * Math.PI * hz) / this.#rate;
    // a harmonic has no fundamental: it is tuned and timed where it sounds
    const heard = this.#harmonic ? 2 * w : w;
    const lowpass = (1 - a) / Math.sqrt(1 - 2 * a * Math.cos(heard) + a * a);
    this.#pole = a;
    this.#gain = Math.min(0.99995, Math.exp(-FALL_60 / (falls * hz)) / lowpass);
    this.#delay =
      this.#rate / hz - Math.atan2(a * Math.sin(heard), 1 - a * Math.cos(heard)) / heard;
  }

  /** Sets the taps for a delay in samples; gives how far back the first of them reads. */
  #interpolate(delay: number): number {
    const first = Math.max(1, Math.floor(delay) - 2);
    const d = delay - first;
    const d1 = d - 1;
    const d2 = d - 2;
    const d3 = d - 3;
    const d4 = d - 4;
    const d5 = d - 5;
    const taps = this.#taps;
    taps[0] = (d1 * d2 * d3 * d4 * d5) / -120;
    taps[1] = (d * d2 * d3 * d4 * d5) / 24;
    taps[2] = (d * d1 * d3 * d4 * d5) / -12;
    taps[3] = (d * d1 * d2 * d4 * d5) / 12;
    taps[4] = (d * d1 * d2 * d3 * d5) / -24;
    taps[5] = (d * d1 * d2 * d3 * d4) / 120;
    return first;
  }
}

/** From 0 to 1 without a corner: the integral of a raised cosine. */
function rise(x: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  return x - Math.sin(2 * Math.PI * x) / (2 * Math.PI);
}
