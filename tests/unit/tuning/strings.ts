/** Sounds of struck steel strings for tests of the tuner, with chance from a seed. */

/** A repeatable source of numbers from 0 to 1 (mulberry32). */
export function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export interface Struck {
  /** Frequency of the lowest partial. */
  readonly hz: number;
  /** B of f(n) = n f √(1 + B n²); steel strings of this instrument lie between 1e-5 and 2e-4. */
  readonly stiffness?: number;
  /** Where it is picked, as a part of its length: partials with a node there are weak. */
  readonly picked?: number;
  /** Seconds in which the lowest partial falls to a tenth; higher ones fall faster. */
  readonly rings?: number;
  /** How loud the lowest partial is against what it would be: pickups and microphones thin it. */
  readonly lowest?: number;
  /** Noise, in decibels below the string. */
  readonly noiseDb?: number;
  readonly amplitude?: number;
}

/** Samples of a string that was struck `after` seconds ago. */
export function struck(
  {
    hz,
    stiffness = 5e-5,
    picked = 0.12,
    rings = 3,
    lowest = 1,
    noiseDb = 30,
    amplitude = 0.2,
  }: Struck,
  {
    seconds,
    rate,
    after = 0.1,
    random,
  }: { seconds: number; rate: number; after?: number; random: () => number },
): Float32Array {
  const out = new Float32Array(Math.round(seconds * rate));
  const base = hz / Math.sqrt(1 + stiffness);
  for (let n = 1; n <= 30; n++) {
    const f = n * base * Math.sqrt(1 + stiffness * n * n);
    if (f > Math.min(8000, rate / 2.2)) break;
    const size = (Math.abs(Math.sin(Math.PI * n * picked)) / n) * (n === 1 ? lowest : 1);
    const phase = 2 * Math.PI * random();
    const fall = (Math.LN10 / rings) * (1 + 0.15 * (n - 1));
    // size · e^(−fall · (t + after)) · sin(2π f t + phase) at t = i / rate: a pointer that turns and shrinks
    // by the same from sample to sample, which spares an exponential and a sine for each
    let across = size * Math.exp(-fall * after) * Math.cos(phase);
    let up = size * Math.exp(-fall * after) * Math.sin(phase);
    const turn = (2 * Math.PI * f) / rate;
    const keeps = Math.exp(-fall / rate);
    const c = keeps * Math.cos(turn);
    const s = keeps * Math.sin(turn);
    for (let i = 0; i < out.length; i++) {
      out[i] = (out[i] as number) + up;
      const next = across * c - up * s;
      up = across * s + up * c;
      across = next;
    }
  }
  let power = 0;
  for (const each of out) power += each * each;
  const rms = Math.sqrt(power / out.length);
  const noise = rms * 10 ** (-noiseDb / 20);
  for (let i = 0; i < out.length; i++) {
    // nearly normal: twelve even ones
    let sum = -6;
    for (let k = 0; k < 12; k++) sum += random();
    out[i] = (amplitude / rms) * ((out[i] as number) + noise * sum);
  }
  return out;
}
