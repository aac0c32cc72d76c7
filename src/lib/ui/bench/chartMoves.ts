/** What is done with whole strings and controls of the copedent, and where in it the player is after that. */
import { addControl, removeControl } from '$lib/setup/edits/controls';
import { setStation, stationBeside } from '$lib/setup/edits/stations';
import { addString, moveString, removeString } from '$lib/setup/edits/strings';
import type { Station } from '$lib/setup/setup';
import type { Bench } from './bench.svelte';
import { FIRST_CONTROL, NUMBER, OPEN, type Spot } from './chartKeys';
import { controlAt } from './chartSpots';

export class ChartMoves {
  readonly #bench: Bench;
  readonly #go: (spot: Spot) => void;

  /** `go`: the copedent is to show this spot. */
  constructor(bench: Bench, go: (spot: Spot) => void) {
    this.#bench = bench;
    this.#go = go;
  }

  /** A head moves along. */
  shift(spot: Spot, by: 1 | -1): void {
    if (spot.row > 0) this.moveString(spot.row, spot.row + by, spot.column);
    else {
      const id = controlAt(this.#bench.chart, spot);
      if (id !== undefined) this.shiftControl(id, by);
    }
  }

  /** What a head stands for goes. */
  remove(spot: Spot): void {
    const id = controlAt(this.#bench.chart, spot);
    if (spot.row > 0) this.removeString(spot.row);
    else if (id !== undefined) this.removeControl(id);
  }

  moveString(from: number, to: number, column = NUMBER): void {
    const neck = this.#bench.neckNumber;
    if (
      this.#bench.make(
        (setup) => moveString(setup, neck, from, to),
        `String ${from} moved to ${to}`,
      )
    )
      this.#go({ row: to, column });
  }

  addString(at: number): void {
    const neck = this.#bench.neckNumber;
    if (this.#bench.make((setup) => addString(setup, neck, at), `String ${at} added`))
      this.#go({ row: at, column: OPEN });
  }

  removeString(gone: number): void {
    const { neckNumber: neck, size } = this.#bench;
    const left = size.strings - 1;
    if (this.#bench.make((setup) => removeString(setup, neck, gone), `String ${gone} removed`))
      this.#go({ row: Math.min(gone, left), column: NUMBER });
  }

  shiftControl(id: string, by: 1 | -1): void {
    const now = this.#bench.setup.controls.find((each) => each.id === id);
    const to = now && stationBeside(now.station, by);
    if (to === undefined) this.#bench.fault = `${id} stands at the end of its row.`;
    else this.putAt(id, to);
  }

  putAt(id: string, to: Station): void {
    if (!this.#bench.make((setup) => setStation(setup, id, to), `${id} put at ${to}`)) return;
    const moved = this.#bench.setup.controls.find((each) => each.station === to);
    if (moved !== undefined) this.#go({ row: 0, column: this.#columnOf(moved.id) });
  }

  removeControl(id: string): void {
    const { here } = this.#bench;
    if (this.#bench.make((setup) => removeControl(setup, id), `${id} removed`)) this.#go(here);
  }

  addControl(at: Station): void {
    if (this.#bench.make((setup) => addControl(setup, at), `Control added at ${at}`))
      this.#go({ row: 0, column: this.#columnOf(at) });
  }

  #columnOf(id: string): number {
    return FIRST_CONTROL + this.#bench.chart.controls.findIndex((each) => each.id === id);
  }
}
