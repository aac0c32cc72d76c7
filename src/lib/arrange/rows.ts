/** Rows of prices, each filled where it is first read, −1 until then; they grow with what is asked. */
export class Rows {
  readonly #rows: (Int32Array | undefined)[] = [];
  #width: number;

  /** @param width of the first rows; at least 1 */
  constructor(width: number) {
    this.#width = width;
  }

  /** A row that is longer than `least`. */
  at(row: number, least: number): Int32Array {
    const prices = this.#rows[row];
    if (prices !== undefined && prices.length > least) return prices;
    while (this.#width <= least) this.#width *= 2;
    const wider = new Int32Array(this.#width).fill(-1);
    if (prices !== undefined) wider.set(prices);
    return (this.#rows[row] = wider);
  }
}
