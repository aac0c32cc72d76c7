/** How hands and feet move: eased, and along what the instrument makes of it. */
import type { Mover } from '$lib/playing/schedule';

/** From 0 to 1, at rest at both ends. */
export const eased = (share: number): number => {
  const x = Math.max(0, Math.min(1, share));
  return x * x * (3 - 2 * x);
};

/**
 * A frequency on its way. The bar goes along the string, and frequency is one over sounding length; a
 * pull stretches the string, and tension is the square of frequency (Mersenne). So strings that the
 * bar takes along keep their intervals at every moment.
 */
export function between(from: number, to: number, share: number, by: Mover): number {
  const x = eased(share);
  if (x === 0) return from;
  if (x === 1) return to;
  return by === 'bar'
    ? 1 / ((1 - x) / from + x / to)
    : Math.sqrt((1 - x) * from * from + x * to * to);
}

/** A value that goes to another within a time: eased, or in equal ratios, as the ear counts. */
export class Moving {
  #from: number;
  #to: number;
  #at = 0;
  #over = 0;
  #evenly = false;

  constructor(value: number) {
    this.#from = value;
    this.#to = value;
  }

  /** Sets out at a time, from wherever it is then; seconds. Equal ratios have no way from or to nothing. */
  go(to: number, at: number, over: number, evenly = false): void {
    this.#from = this.valueAt(at);
    this.#to = to;
    this.#at = at;
    this.#over = over;
    this.#evenly = evenly && this.#from > 0 && to > 0;
  }

  valueAt(time: number): number {
    if (this.#over === 0 || time >= this.#at + this.#over) return this.#to;
    const share = (time - this.#at) / this.#over;
    return this.#evenly
      ? this.#from * (this.#to / this.#from) ** Math.max(0, share)
      : this.#from + (this.#to - this.#from) * eased(share);
  }
}
