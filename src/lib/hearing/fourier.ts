/** The fast Fourier transform of Cooley and Tukey (1965), in place, for lengths that are powers of two. */

/** Turns of the unit circle by length, made once: cosines, then sines, of half a circle. */
const turns = new Map<number, { readonly cos: Float64Array; readonly sin: Float64Array }>();

function turnsOf(length: number): { readonly cos: Float64Array; readonly sin: Float64Array } {
  const known = turns.get(length);
  if (known !== undefined) return known;
  const cos = new Float64Array(length / 2);
  const sin = new Float64Array(length / 2);
  for (let i = 0; i < length / 2; i++) {
    cos[i] = Math.cos((2 * Math.PI * i) / length);
    sin[i] = -Math.sin((2 * Math.PI * i) / length);
  }
  const made = { cos, sin };
  turns.set(length, made);
  return made;
}

/** Transforms complex numbers in place; their count is a power of two. */
export function transform(re: Float64Array, im: Float64Array): void {
  const length = re.length;
  for (let i = 1, j = 0; i < length; i++) {
    let bit = length >> 1;
    for (; j & bit; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i < j) {
      [re[i], re[j]] = [re[j] as number, re[i] as number];
      [im[i], im[j]] = [im[j] as number, im[i] as number];
    }
  }
  const { cos, sin } = turnsOf(length);
  for (let size = 2; size <= length; size <<= 1) {
    const half = size >> 1;
    const stride = length / size;
    for (let from = 0; from < length; from += size)
      for (let k = 0; k < half; k++) {
        const c = cos[k * stride] as number;
        const s = sin[k * stride] as number;
        const at = from + k;
        const to = at + half;
        const r = (re[to] as number) * c - (im[to] as number) * s;
        const i = (re[to] as number) * s + (im[to] as number) * c;
        re[to] = (re[at] as number) - r;
        im[to] = (im[at] as number) - i;
        re[at] = (re[at] as number) + r;
        im[at] = (im[at] as number) + i;
      }
  }
}

/**
 * Transforms twice as many real numbers at once: those of even places in `re`, of odd ones in `im`. What comes
 * out are the lines below half the rate ("The fast Fourier transform algorithm: programming considerations in the
 * calculation of sine, cosine and Laplace transforms", Cooley, Lewis and Welch, Journal of Sound and Vibration 12,
 * 1970).
 */
export function transformReal(re: Float64Array, im: Float64Array): void {
  const half = re.length;
  transform(re, im);
  const { cos, sin } = turnsOf(2 * half);
  re[0] = (re[0] as number) + (im[0] as number);
  im[0] = 0;
  for (let k = 1, m = half - 1; k <= m; k++, m--) {
    const [ar, ai, br, bi] = [re[k] as number, im[k] as number, re[m] as number, im[m] as number];
    const [evenRe, evenIm] = [(ar + br) / 2, (ai - bi) / 2];
    const [oddRe, oddIm] = [(ai + bi) / 2, (br - ar) / 2];
    const [c, s] = [cos[k] as number, sin[k] as number];
    const r = c * oddRe - s * oddIm;
    const i = c * oddIm + s * oddRe;
    re[k] = evenRe + r;
    im[k] = evenIm + i;
    re[m] = evenRe - r;
    im[m] = i - evenIm;
  }
}
