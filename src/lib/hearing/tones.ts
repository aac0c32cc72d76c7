/**
 * Tones that lie close together, measured at once. Each is taken to grow or fade, and to be a little off
 * the pitch it was looked for at, so that one least-squares fit of the spectrum around them gives their
 * loudness and how far they are off: in c(u) = c₀ + c₁u, the part of c₁ that stands across c₀ is a turn of
 * phase. Tones farther off are taken away first.
 */
import { addShapes, bendingAt, growingAt, steadyAt, type Spectrum } from './spectrum';

/** A tone that is looked for, and what was found of it. */
export interface Tone {
  /** Where it is taken to lie. */
  hz: number;
  /** Its pitch is not asked for: another lies too near. */
  held: boolean;
  /** A partial of another string should lie there too, so that it speaks for neither. */
  shared: boolean;
  /** Complex amplitude in the middle of the stretch; half the amplitude of a sine. */
  re: number;
  im: number;
  /** How it changes from one end of the stretch to the other. */
  growRe: number;
  growIm: number;
  /** How far it is off `hz`, and how unsure that is, in hertz. */
  offHz: number;
  unsureHz: number;
  /** Loudness of what lies beside it and leaks into it, as an amplitude; and whether that is near. */
  beside: number;
  alone: boolean;
  /** Spread of what the fit leaves, as an amplitude; noise is as loud. */
  rest: number;
}

/** A tone of which nothing is known but where it should lie. */
export const toneAt = (hz: number): Tone => ({
  hz,
  held: false,
  shared: false,
  re: 0,
  im: 0,
  growRe: 0,
  growIm: 0,
  offHz: 0,
  unsureHz: Infinity,
  beside: 0,
  alone: true,
  rest: 0,
});

/** Its amplitude, half that of a sine. */
export const sizeOf = ({ re, im }: Tone): number => Math.sqrt(re * re + im * im);

/** Tones nearer than so many bins are fitted together. */
const TOGETHER = 4.5;
/** The fit looks so many bins beyond its outermost tones. */
const BESIDE = 2.2;
/** Of the loudness of a column: keeps two tones that are nearly one from tearing apart. */
const RIDGE = 1e-5;

/** Adds a tone to a spectrum, `sign` times. */
const addTo = (spectrum: Spectrum, { hz, re, im, growRe, growIm }: Tone, sign: 1 | -1): void =>
  addShapes(spectrum, hz, [sign * re, sign * im, sign * growRe, sign * growIm]);

/** What is left of a spectrum without some tones. */
export function withoutTones(spectrum: Spectrum, tones: readonly Tone[]): Spectrum {
  const rest = { ...spectrum, re: spectrum.re.slice(), im: spectrum.im.slice() };
  for (const tone of tones) addTo(rest, tone, -1);
  return rest;
}

/** The tones in bunches, those of a bunch near to each other, from low to high. */
function bunched(tones: readonly Tone[], seconds: number): Tone[][] {
  const bunches: Tone[][] = [];
  let last = -Infinity;
  for (const tone of [...tones].sort((a, b) => a.hz - b.hz)) {
    if ((tone.hz - last) * seconds < TOGETHER) bunches.at(-1)?.push(tone);
    else bunches.push([tone]);
    last = tone.hz;
  }
  return bunches;
}

/** The inverse of a positive matrix, in place, by Gauss and Jordan. */
function invert(m: Float64Array, size: number): void {
  for (let p = 0; p < size; p++) {
    const pivot = m[p * size + p] as number;
    m[p * size + p] = 1;
    for (let j = 0; j < size; j++) m[p * size + j] = (m[p * size + j] as number) / pivot;
    for (let i = 0; i < size; i++) {
      if (i === p) continue;
      const factor = m[i * size + p] as number;
      if (factor === 0) continue;
      m[i * size + p] = 0;
      for (let j = 0; j < size; j++)
        m[i * size + j] = (m[i * size + j] as number) - factor * (m[p * size + j] as number);
    }
  }
}

/** What a column of the fit stands for: the steady tone, its even growth, what goes with the square of the time. */
const SHAPES = [steadyAt, growingAt, bendingAt] as const;

/** How a tone's phase bends over the stretch, in radians: of c(u) = c₀ + c₁u + c₂u², (log c)″ = 2c₂/c₀ − (c₁/c₀)². */
interface Curve {
  curve: number;
  unsure: number;
}

/** Fits one bunch to what the spectrum holds there; where asked, with how the phase of its only tone bends. */
function fitBunch(spectrum: Spectrum, bunch: readonly Tone[], bend?: Curve): void {
  const { re, im, lineHz, seconds } = spectrum;
  const lowest = (bunch[0] as Tone).hz - BESIDE / seconds;
  const highest = (bunch.at(-1) as Tone).hz + BESIDE / seconds;
  const from = Math.max(0, Math.ceil(lowest / lineHz));
  const to = Math.min(re.length - 1, Math.floor(highest / lineHz));
  const lines = to - from + 1;
  const orders = bend === undefined ? [0, 1] : [0, 1, 2];
  const columns: { readonly tone: Tone; readonly order: number }[] = bunch.flatMap((tone) =>
    (tone.held ? [0] : orders).map((order) => ({ tone, order })),
  );
  const size = columns.length;
  if (lines < size) return;
  const a = new Float64Array(lines * size);
  columns.forEach(({ tone, order }, j) => {
    const shape = SHAPES[order] ?? steadyAt;
    for (let row = 0; row < lines; row++)
      a[row * size + j] = shape(((from + row) * lineHz - tone.hz) * seconds);
  });
  const normal = new Float64Array(size * size);
  const [rightRe, rightIm] = [new Float64Array(size), new Float64Array(size)];
  for (let row = 0; row < lines; row++)
    for (let i = 0; i < size; i++) {
      const value = a[row * size + i] as number;
      rightRe[i] = (rightRe[i] as number) + value * (re[from + row] as number);
      rightIm[i] = (rightIm[i] as number) + value * (im[from + row] as number);
      for (let j = 0; j < size; j++)
        normal[i * size + j] =
          (normal[i * size + j] as number) + value * (a[row * size + j] as number);
    }
  for (let i = 0; i < size; i++)
    normal[i * size + i] = (normal[i * size + i] as number) * (1 + RIDGE) + 1e-12;
  invert(normal, size);
  const [fitRe, fitIm] = [new Float64Array(size), new Float64Array(size)];
  for (let i = 0; i < size; i++)
    for (let j = 0; j < size; j++) {
      const each = normal[i * size + j] as number;
      fitRe[i] = (fitRe[i] as number) + each * (rightRe[j] as number);
      fitIm[i] = (fitIm[i] as number) + each * (rightIm[j] as number);
    }
  let off = 0;
  for (let row = 0; row < lines; row++) {
    let [r, i] = [re[from + row] as number, im[from + row] as number];
    for (let j = 0; j < size; j++) {
      r -= (a[row * size + j] as number) * (fitRe[j] as number);
      i -= (a[row * size + j] as number) * (fitIm[j] as number);
    }
    off += r * r + i * i;
  }
  // lines that lie closer than a bin say the same again
  const told = Math.max(1, lines * lineHz * seconds - size);
  const spread = Math.sqrt((off * lineHz * seconds) / told / 2);
  for (let j = 0; j < size; j++) {
    const { tone, order } = columns[j] as (typeof columns)[number];
    if (order === 0) {
      tone.re = fitRe[j] as number;
      tone.im = fitIm[j] as number;
      tone.rest = spread * Math.sqrt(normal[j * size + j] as number);
      tone.growRe = tone.growIm = tone.offHz = 0;
      tone.unsureHz = Infinity;
      continue;
    }
    const power = Math.max(1e-30, tone.re ** 2 + tone.im ** 2);
    if (order === 2) {
      if (bend === undefined) continue;
      const along = (tone.growRe * tone.re + tone.growIm * tone.im) / power;
      const across = (tone.growIm * tone.re - tone.growRe * tone.im) / power;
      const square = ((fitIm[j] as number) * tone.re - (fitRe[j] as number) * tone.im) / power;
      bend.curve = 2 * (square - along * across);
      bend.unsure = 2 * spread * Math.sqrt((normal[j * size + j] as number) / power);
      continue;
    }
    // the column was i times what grows
    tone.growRe = fitIm[j] as number;
    tone.growIm = -(fitRe[j] as number);
    const across = (tone.growIm * tone.re - tone.growRe * tone.im) / power;
    tone.offHz = across / (2 * Math.PI * seconds);
    const unsure = spread * Math.sqrt((normal[j * size + j] as number) / power);
    tone.unsureHz = unsure / (2 * Math.PI * seconds);
  }
}

/**
 * How the phase of a tone bends over the stretch that stands alone in what is `rest` of a spectrum without all
 * tones, in radians, and how unsure that is; Infinity where it cannot be told. The rest is left as it was.
 */
export function curveOf(rest: Spectrum, tone: Tone): Readonly<Curve> {
  const found: Curve = { curve: 0, unsure: Infinity };
  addTo(rest, tone, 1);
  fitBunch(rest, [{ ...tone }], found);
  addTo(rest, tone, -1);
  return found;
}

/** Nearer than so many bins another tone is beside it. */
const BESIDE_BINS = 2.5;

/** How much of the others is felt at each tone; tones stand in the order of their pitch. */
function weighNeighbours(tones: readonly Tone[], seconds: number): void {
  tones.forEach((tone, index) => {
    tone.beside = 0;
    tone.alone = true;
    for (const way of [-1, 1])
      for (let at = index + way; at >= 0 && at < tones.length; at += way) {
        const other = tones[at] as Tone;
        const bins = Math.abs(other.hz - tone.hz) * seconds;
        if (bins > 8) break;
        if (bins < BESIDE_BINS && sizeOf(other) > 0.05 * sizeOf(tone)) tone.alone = false;
        // the side lobes, not the zeros between them
        tone.beside += sizeOf(other) * Math.min(1, 1 / (1 + bins * bins * bins));
      }
  });
}

/** Measures all tones, each bunch beside what the others leak into it. */
export function measureTones(spectrum: Spectrum, tones: readonly Tone[]): void {
  const bunches = bunched(tones, spectrum.seconds);
  const rest = withoutTones(spectrum, tones);
  for (const bunch of bunches) {
    for (const tone of bunch) addTo(rest, tone, 1);
    fitBunch(rest, bunch);
    for (const tone of bunch) addTo(rest, tone, -1);
  }
  weighNeighbours(bunches.flat(), spectrum.seconds);
}
