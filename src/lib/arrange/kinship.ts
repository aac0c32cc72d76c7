/**
 * How far candidates of one position are from one another, so that one that is much dearer than its neighbour
 * need not be looked at.
 *
 * Candidates b and c of a position, with as many strings, share bar and controls. Whatever comes before or
 * after, a move to b costs at most so much more than one to c as the picking hand and the voices take from c
 * to b: strings that differ are counted apart, and each voice goes on from where its twin would have been. A
 * voice of one of few may be doubled by the others of a chord of many strings, and its way counts for each.
 * So a way over c is dearer than one over b by at least `onward(c) − onward(b) − apart(b, c)`.
 */
import { STRIDE } from '$lib/engine/layer';
import { NEVER, changedBits, type MoveCosts } from './moveCosts';
import type { Stage } from './stage';

/** What rounding to whole thousandths may add, for the hand and for the voices. */
const ROUNDING = 2;

/** The kinship of candidates under some prices. */
export class Kinship {
  readonly #costs: MoveCosts;
  /** The most strings of any candidate of the piece. */
  readonly #strings: number;
  readonly #weight: number;

  /** @param weight how often a move is made at most that is paid for as often */
  constructor(stages: readonly Stage[], costs: MoveCosts, weight = 1) {
    this.#costs = costs;
    this.#weight = weight;
    let strings = 0;
    for (const { layer } of new Set(stages))
      for (const size of layer.size) strings = Math.max(strings, size);
    this.#strings = strings;
  }

  /** The most that a move to or from one costs more than to or from the other; of one size and position. */
  apart({ layer }: Stage, a: number, b: number): number {
    const { pitches } = layer;
    const size = layer.size[a] as number;
    let all = 0;
    let most = 0;
    for (let i = 0; i < size; i++) {
      const step = Math.abs(
        (pitches[a * STRIDE + i] as number) - (pitches[b * STRIDE + i] as number),
      );
      all += step;
      if (step > most) most = step;
    }
    const { picking, voices } = this.#costs;
    const semitones = Math.min(voices.length - 1, all + (this.#strings - size) * most);
    const strings = changedBits(layer.grip[a] as number, layer.grip[b] as number, true);
    const once = (picking[strings] as number) + (voices[semitones] as number) + ROUNDING;
    return this.#weight * once;
  }

  /**
   * What may come after a candidate at most, that it can be as good as the best of some others of its
   * position; `NEVER` where none of these has as many strings.
   *
   * @param others these, from one row to before another
   * @param rests by candidate: what comes after it costs no more than this
   */
  cap(
    stage: Stage,
    candidate: number,
    others: ArrayLike<number>,
    from: number,
    to: number,
    rests: Int32Array,
  ): number {
    const { effort, layer } = stage;
    const size = layer.size[candidate];
    let cap = NEVER;
    for (let row = from; row < to; row++) {
      const other = others[row] as number;
      if (other === candidate || layer.size[other] !== size) continue;
      const onward = (effort[other] as number) + (rests[other] as number);
      if (onward >= cap) continue;
      cap = Math.min(cap, onward + this.apart(stage, other, candidate));
    }
    return cap === NEVER ? NEVER : cap - (effort[candidate] as number);
  }
}
