/** One string under the hands: struck, bent, slid, damped; it sounds through a waveguide or a plain tone. */
import type { Timbre } from '../actions';
import type { Mover } from '$lib/playing/schedule';
import { between } from './motion';
import { PlainTone } from './plainTone';
import type { Sounder } from './sounder';
import { Waveguide } from './waveguide';

/** Seconds in which a damped string falls silent: short, and slow enough not to click. */
export const DAMPED = 0.035;
/** Seconds that the pick rests on a ringing string before it strikes it anew. */
const TOUCH = 0.004;
/** Below this for a while a string is at rest: −110 dBFS. */
const SILENT = 3e-6;
const SILENT_SECONDS = 0.06;

interface Stroke {
  readonly hz: number;
  readonly level: number;
  readonly harmonic: boolean;
  /** Seconds in which it falls by 60 dB at `hz`. */
  readonly falls: number;
  readonly timbre: Timbre;
}

/** A string that is told what hands do to it, and renders what comes of it. */
export class PlayedString {
  readonly #rate: number;
  readonly #sounders: Readonly<Record<Timbre, Sounder>>;
  #sounder: Sounder;
  #ringing = false;
  #quiet = 0;
  /** The way of the pitch. */
  #from = 0;
  #to = 0;
  #at = 0;
  #over = 0;
  #by: Mover = 'pull';
  #hz = 0;
  /** How far it is damped, 0 … 1, and how much of that a second brings; a stroke may wait for the end. */
  #damped = 0;
  #damping = 0;
  #next: Stroke | undefined;

  constructor(sampleRate: number) {
    this.#rate = sampleRate;
    this.#sounders = { string: new Waveguide(sampleRate), plain: new PlainTone(sampleRate) };
    this.#sounder = this.#sounders.string;
  }

  get ringing(): boolean {
    return this.#ringing;
  }

  strike(stroke: Stroke, time: number): void {
    if (!this.#ringing) {
      this.#begin(stroke, time);
      return;
    }
    this.#next = stroke;
    this.#damping = Math.max(this.#damping, 1 / TOUCH);
  }

  #begin({ hz, level, harmonic, falls, timbre }: Stroke, time: number): void {
    this.#next = undefined;
    this.#sounder = this.#sounders[timbre];
    this.#sounder.start(hz, level, harmonic, falls);
    this.#from = hz;
    this.#to = hz;
    this.#at = time;
    this.#over = 0;
    this.#hz = hz;
    this.#damped = 0;
    this.#damping = 0;
    this.#quiet = 0;
    this.#ringing = true;
  }

  /** Sets out to another pitch, from wherever it is. */
  glide(hz: number, time: number, over: number, by: Mover): void {
    if (this.#next !== undefined) {
      this.#next = { ...this.#next, hz };
      return;
    }
    if (!this.#ringing) return;
    this.#from = this.#pitchAt(time);
    this.#to = hz;
    this.#at = time;
    this.#over = over;
    this.#by = by;
  }

  damp(): void {
    this.#next = undefined;
    if (this.#ringing) this.#damping = Math.max(this.#damping, 1 / DAMPED);
  }

  #pitchAt(time: number): number {
    if (time >= this.#at + this.#over) return this.#to;
    return between(this.#from, this.#to, (time - this.#at) / this.#over, this.#by);
  }

  /** Adds the next samples to a sum. `time` is that of the sample after them; `bend` a factor on the pitch. */
  render(
    sum: Float32Array,
    scratch: Float32Array,
    count: number,
    time: number,
    bend: number,
  ): void {
    if (!this.#ringing) return;
    const hz = this.#pitchAt(time) * bend;
    this.#sounder.render(scratch, count, this.#hz, hz);
    this.#hz = hz;
    const step = this.#damping / this.#rate;
    let loudest = 0;
    for (let i = 0; i < count; i++) {
      this.#damped += step;
      const sample =
        step === 0
          ? (scratch[i] as number)
          : (scratch[i] as number) * (0.5 + 0.5 * Math.cos(Math.PI * Math.min(1, this.#damped)));
      const size = sample < 0 ? -sample : sample;
      if (size > loudest) loudest = size;
      sum[i] = (sum[i] as number) + sample;
    }
    this.#quiet = loudest < SILENT ? this.#quiet + count : 0;
    if (this.#damped >= 1 || this.#quiet > SILENT_SECONDS * this.#rate) {
      this.#ringing = false;
      this.#sounder.clear();
      if (this.#next !== undefined) this.#begin(this.#next, time);
    }
  }
}
