/** Picks from a source of numbers from 0 up to 1, as generators of files do. */
export class Picker {
  readonly #random: () => number;

  constructor(random: () => number) {
    this.#random = random;
  }

  /** A whole number, both ends included. */
  whole(least: number, most: number): number {
    return least + Math.floor(this.#random() * (most - least + 1));
  }
  of<T>(list: readonly T[]): T {
    return list[this.whole(0, list.length - 1)] as T;
  }
  chance(of: number): boolean {
    return this.#random() < of;
  }
  list<T>(least: number, most: number, make: (index: number) => T): T[] {
    return Array.from({ length: this.whole(least, most) }, (_, index) => make(index));
  }
}
