/**
 * The partials of a sound whose period is nearly known, each measured by how far its phase turns between
 * two windows. The windows lie whole periods apart, so that what leaks from one partial into another
 * leaks into both alike, and cancels.
 */

export interface Partial {
  /** 1 is the lowest. */
  readonly number: number;
  readonly hz: number;
  /** Energy of it in the second window. */
  readonly energy: number;
}

/** One window of a sound, tapered (Hann) once for all its partials. */
interface Window {
  readonly x: Float64Array;
  readonly from: number;
  /** Sum of the taper, and of its squares. */
  readonly sum: number;
  readonly squares: number;
}

function windowAt(samples: Float32Array, from: number, length: number): Window {
  const x = new Float64Array(length);
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < length; i++) {
    const taper = 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / length);
    x[i] = taper * (samples[from + i] as number);
    sum += taper;
    squares += taper * taper;
  }
  return { x, from, sum, squares };
}

/** Amplitude and phase of one frequency in a window, the phase counted from the start of the sound. */
function component({ x, from }: Window, hz: number, sampleRate: number): [re: number, im: number] {
  const turn = (2 * Math.PI * hz) / sampleRate;
  // a pointer that is turned by one sample at a time
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  let c = Math.cos(turn * from);
  let s = Math.sin(turn * from);
  let re = 0;
  let im = 0;
  for (const each of x) {
    re += each * c;
    im -= each * s;
    const next = c * cos - s * sin;
    s = c * sin + s * cos;
    c = next;
  }
  return [re, im];
}

const energyIn = ({ sum, squares }: Window, [re, im]: readonly [number, number]): number =>
  (2 * (re * re + im * im) * squares) / (sum * sum);

export interface Measured {
  readonly partials: readonly Partial[];
  /** Energy of all that sounds in the second window. */
  readonly energy: number;
}

/**
 * Measures partials at guessed frequencies over the last `seconds` of a sound whose period is
 * `periodS`. `apart` is how much of the time lies between the windows' starts: little for a first look,
 * when guesses are far off, half for a last one.
 */
export function measure(
  samples: Float32Array,
  sampleRate: number,
  guesses: readonly (readonly [number: number, hz: number])[],
  { periodS, seconds, apart }: { periodS: number; seconds: number; apart: number },
): Measured {
  const all = Math.min(samples.length, Math.round(seconds * sampleRate));
  const periods = Math.max(1, Math.round((apart * all) / sampleRate / periodS));
  const hop = Math.min(Math.round(periods * periodS * sampleRate), Math.floor(all / 2));
  const length = all - hop;
  const first = windowAt(samples, samples.length - all, length);
  const second = windowAt(samples, samples.length - length, length);
  let energy = 0;
  for (const each of second.x) energy += each * each;
  const partials = guesses.map(([number, hz]): Partial => {
    const [re1, im1] = component(first, hz, sampleRate);
    const found = component(second, hz, sampleRate);
    const [re2, im2] = found;
    // what is left of the turn beyond that of the guess
    const turn = Math.atan2(im2 * re1 - re2 * im1, re2 * re1 + im2 * im1);
    return {
      number,
      hz: hz + (turn * sampleRate) / (2 * Math.PI * hop),
      energy: energyIn(second, found),
    };
  });
  return { partials, energy };
}
