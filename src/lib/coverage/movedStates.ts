/**
 * What one neck gives at most under two controls on grips of which just some strings are moved, by how far each of
 * these is raised and lowered: found when it is first asked for, and remembered, since it hangs on no other string.
 *
 * What is counted is the weighed sum above what is there without the two: each spot once, by the easiest shape on any
 * grip that holds all the strings, the others of the grip as they are.
 */
import { chromaOf } from '$lib/theory/pitch';
import { FURTHEST } from '$lib/setup/candidates';
import { stringsIn } from '$lib/search/grip';
import type { ShapeOptions } from './shapeOptions';
import { easeOf, type Eases } from './ease';
import { NeckRows, type PlayedGrip, type UnderControls } from './neckRows';
import { Raising } from './raising';
import type { Yardstick } from './yardstick';

/** How many things can be done to a string. */
export const DONE = (FURTHEST + 1) ** 2;
/** What is done to a string that is raised (0 …) and lowered (… 0) by so many semitones, 0 … `DONE`. */
export const doneBy = (raise: number, lower: number): number => raise * (FURTHEST + 1) - lower;
/** The way back. */
const lowerOf = (done: number): number => -(done % (FURTHEST + 1));
const raiseOf = (done: number): number => Math.floor(done / (FURTHEST + 1));
/** Grips of more strings have too many states to be remembered. */
export const MOST_STRINGS = 4;
const UNKNOWN = -1;
/** What is remembered is kept in fewer digits, and is never less for it. */
export const KEPT = 1 + 1e-6;

/** Can what grips of such sizes give be remembered by what is done to their strings? */
export const canRemember = ({ sizes }: ShapeOptions): boolean => sizes[1] <= MOST_STRINGS;

interface Moved {
  /** From 0, ascending. */
  readonly strings: readonly number[];
  readonly grips: readonly PlayedGrip[];
  /** By state: the sum over its spots. */
  readonly most: Float32Array;
}

/** The states of one neck under two controls. */
export class MovedStates {
  readonly #by: Yardstick;
  readonly #rows: NeckRows;
  readonly #raising: Raising;
  readonly #rest: Eases;
  /** By strings, as a grip. */
  readonly #moved: (Moved | undefined)[] = [];
  readonly #whatever: (number | undefined)[] = [];
  /** By string: what the rows have now. */
  readonly #done: number[];

  /** @param rest the eases of the neck without the two controls */
  constructor(under: UnderControls, rest: Eases) {
    this.#by = under.by;
    this.#rows = new NeckRows(under);
    this.#raising = new Raising(under.by);
    this.#rest = rest.slice();
    this.#done = new Array<number>(this.#rows.strings).fill(0);
  }

  /**
   * What grips give of which just these strings are moved.
   *
   * @param mask the strings, as a grip; at most four
   * @param done by string, from 0: what is done to it; what stands at other strings is not looked at
   */
  most(mask: number, done: ArrayLike<number>): number {
    const moved = (this.#moved[mask] ??= this.#of(mask));
    const { strings, most } = moved;
    let state = 0;
    for (let i = 0; i < strings.length; i++)
      state = state * DONE + (done[strings[i] as number] as number);
    const known = most[state] as number;
    return known === UNKNOWN ? this.#find(moved, state, done) : known;
  }

  /**
   * What grips that hold these strings give at most, whatever is done to any of their strings: every row sounds one
   * thing at a time, and adds no more than the best thing that it can sound.
   */
  whatever(mask: number): number {
    return (this.#whatever[mask] ??= this.#rows.grips
      .filter(({ grip }) => (grip & mask) === mask)
      .reduce((sum, played) => sum + this.#mostOn(played), 0));
  }

  #of(mask: number): Moved {
    const strings = stringsIn(mask).map((string) => string - 1);
    return {
      strings,
      grips: this.#rows.grips.filter(({ grip }) => (grip & mask) === mask),
      most: new Float32Array(DONE ** strings.length).fill(UNKNOWN),
    };
  }

  #find({ strings, grips, most }: Moved, state: number, done: ArrayLike<number>): number {
    this.#done.forEach((was, s) => {
      const wanted = strings.includes(s) ? (done[s] as number) : 0;
      if (was === wanted) return;
      this.#done[s] = wanted;
      this.#rows.pull(s, raiseOf(wanted), lowerOf(wanted));
    });
    let sum = 0;
    for (const each of grips) sum += this.#raising.raise(this.#rows, each, this.#rest);
    this.#raising.putBack(this.#rest);
    most[state] = sum * KEPT;
    return most[state];
  }

  #mostOn({ strings: own, ahead, price, rows: differing }: PlayedGrip): number {
    const { strings, raise, lower, feet, open } = this.#rows;
    let sum = 0;
    for (const row of differing) {
      const effort = price + (feet[row] as number);
      const pitches = Array.from(own, (s, i) => {
        const at = row * strings + s;
        const all = Array.from({ length: DONE }, (_, done) => {
          const up = Math.max(raise[at] as number, raiseOf(done));
          const down = Math.min(lower[at] as number, lowerOf(done));
          return (open[s] as number) + up + down + (ahead?.[i] ?? 0);
        });
        return [...new Set(all)];
      });
      let most = 0;
      const walk = (i: number, set: number, high: number): void => {
        if (i === pitches.length) {
          most = Math.max(most, this.#moreBy(set, chromaOf(high), effort));
          return;
        }
        for (const pitch of pitches[i] as number[])
          walk(i + 1, set | (1 << chromaOf(pitch)), Math.max(high, pitch));
      };
      walk(0, 0, 0);
      sum += most;
    }
    return sum;
  }

  #moreBy(set: number, top: number, effort: number): number {
    const { from, chordNumber, lean, weight } = this.#by;
    let sum = 0;
    for (let entry = from[set] as number; entry < (from[set + 1] as number); entry++) {
      const chord = chordNumber[entry] as number;
      const more = easeOf(effort, lean[entry] === 1) - (this.#rest[chord * 12 + top] as number);
      if (more > 0) sum += more * (weight[chord] as number);
    }
    return sum;
  }
}
