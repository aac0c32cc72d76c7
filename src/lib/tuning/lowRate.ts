/** Sound at a low rate, where hum and the lowest partials of a string are, so that fits are quick. */

/** Samples a second that are enough for hum. */
const LOW_RATE = 1_600;

/** Samples at a low rate, each a smooth mean (Blackman) of those around it. */
export interface Low {
  readonly x: Float64Array;
  /** Seconds of each sample from the first of the sound. */
  readonly at: (index: number) => number;
  /** Nothing above this is left, in hertz. */
  readonly below: number;
  /** How much of a tone is left at this rate. */
  readonly gainAt: (hz: number) => number;
}

/** A sound at that rate; what its smoothing takes away is `gainAt`. */
export function lowered(samples: Float32Array, sampleRate: number): Low {
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
