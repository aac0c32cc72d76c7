/** A plain tone, nearly a sine, in which intervals and their beats are heard clearly. */
import type { Sounder } from './sounder';

/** A little of the second to fifth partials, without which thirds and fifths could not beat. */
const PARTIALS = [1, 0.22, 0.12, 0.07, 0.04] as const;
const LEVEL = 0.5;
/** Seconds until it stands. */
const BEGINS = 0.015;
/** Seconds until it has fallen by 60 dB: slow, so that beats can be counted. */
const FALLS = 14;

/** A tone of a few partials that falls slowly, whatever string it stands for. */
export class PlainTone implements Sounder {
  readonly #rate: number;
  #phase = 0;
  #level = 0;
  #age = 0;
  #octave = 1;

  constructor(sampleRate: number) {
    this.#rate = sampleRate;
  }

  clear(): void {
    this.#level = 0;
  }

  start(_hz: number, level: number, harmonic: boolean): void {
    this.#phase = 0;
    this.#age = 0;
    this.#level = LEVEL * level;
    this.#octave = harmonic ? 2 : 1;
  }

  render(out: Float32Array, count: number, fromHz: number, toHz: number): void {
    const fall = 1000 ** (-1 / (FALLS * this.#rate));
    for (let i = 0; i < count; i++) {
      const hz = this.#octave * (fromHz + ((toHz - fromHz) * (i + 1)) / count);
      this.#phase = (this.#phase + hz / this.#rate) % 1;
      this.#level *= fall;
      const begun = Math.min(1, this.#age++ / (BEGINS * this.#rate));
      const envelope = this.#level * (0.5 - 0.5 * Math.cos(Math.PI * begun));
      let sum = 0;
      for (let partial = 0; partial < PARTIALS.length; partial++)
        // what would lie above half the sampling rate is left out
        if ((partial + 1) * hz < 0.45 * this.#rate)
          sum +=
            (PARTIALS[partial] as number) * Math.sin(2 * Math.PI * (partial + 1) * this.#phase);
      out[i] = envelope * sum;
    }
  }
}
