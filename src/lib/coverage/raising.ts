/** Eases that shapes raise, with an account of what was there, so that all of it can be taken out again. */
import { chromaOf } from '$lib/theory/pitch';
import { easeOf, type Eases } from './ease';
import type { NeckRows, PlayedGrip } from './neckRows';
import type { Yardstick } from './yardstick';

/** An account of what was raised since it was last put back. */
export class Raising {
  /** In the order of raising; a spot stands there as often as it was raised. */
  readonly spots: number[] = [];
  readonly were: number[] = [];
  readonly #by: Yardstick;

  constructor(by: Yardstick) {
    this.#by = by;
  }

  /** Brings in what a grip gives in all rows that differ on it, and tells the sum by which it is easier. */
  raise(rows: NeckRows, { strings: own, ahead, price, rows: differing }: PlayedGrip, now: Eases) {
    const { from, chordNumber, lean, weight } = this.#by;
    const { strings, pitch: pitches, bit: bits, feet } = rows;
    let sum = 0;
    for (let r = 0; r < differing.length; r++) {
      const row = differing[r] as number;
      const base = row * strings;
      let set = 0;
      let high = 0;
      for (let i = 0; i < own.length; i++) {
        const at = base + (own[i] as number);
        let pitch = pitches[at] as number;
        if (ahead === undefined) set |= bits[at] as number;
        else {
          pitch += ahead[i] as number;
          set |= 1 << chromaOf(pitch);
        }
        if (pitch > high) high = pitch;
      }
      const last = from[set + 1] as number;
      const first = from[set] as number;
      if (first === last) continue;
      const effort = price + (feet[row] as number);
      const top = chromaOf(high);
      for (let entry = first; entry < last; entry++) {
        const chord = chordNumber[entry] as number;
        const spot = chord * 12 + top;
        const ease = easeOf(effort, lean[entry] === 1);
        const was = now[spot] as number;
        if (ease <= was) continue;
        this.spots.push(spot);
        this.were.push(was);
        now[spot] = ease;
        sum += (ease - was) * (weight[chord] as number);
      }
    }
    return sum;
  }

  /** Takes out what was brought in. */
  putBack(now: Eases): void {
    for (let i = this.spots.length - 1; i >= 0; i--)
      now[this.spots[i] as number] = this.were[i] as number;
    this.spots.length = this.were.length = 0;
  }
}
