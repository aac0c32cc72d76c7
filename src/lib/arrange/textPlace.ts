/** Where in a text something stands, as people count: lines and places from 1. */
export class TextPlaces {
  /** Where each line begins. */
  readonly #starts: number[] = [0];

  constructor(text: string) {
    for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1))
      this.#starts.push(at + 1);
  }

  /** The lines' beginnings, in UTF-16 units from 0. */
  get lineStarts(): readonly number[] {
    return this.#starts;
  }

  /** `line 2, place 5`, for what stands `at` so many UTF-16 units from the beginning. */
  at(at: number): string {
    let low = 0;
    let high = this.#starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((this.#starts[middle] ?? 0) <= at) low = middle;
      else high = middle - 1;
    }
    return `line ${String(low + 1)}, place ${String(at - (this.#starts[low] ?? 0) + 1)}`;
  }
}
