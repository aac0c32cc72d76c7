/**
 * What two controls give on one neck while both are engaged, with the bar at the nut. The first has its pulls
 * for a while; those of the second are laid over them.
 */
import type { PlainPull } from '$lib/setup/candidates';
import type { Eases } from './ease';
import { NeckRows, type PlayedGrip, type UnderControls } from './neckRows';
import { Raising } from './raising';

/** One neck under both controls. */
export class NeckJoint {
  readonly #rows: NeckRows;
  /** By strings, as a grip: the grips that hold them all, listed when they are first asked for. */
  readonly #holding = new Map<number, readonly PlayedGrip[]>();
  /** By string (from 0): semitones by the first control, and by the second as the rows have them now. */
  readonly #first: number[];
  readonly #second: number[];
  #firstMask = 0;
  readonly #raising: Raising;

  /** @param under the neck with both controls engaged */
  constructor(under: UnderControls) {
    this.#raising = new Raising(under.by);
    this.#rows = new NeckRows(under);
    const { strings } = this.#rows;
    this.#first = new Array<number>(strings).fill(0);
    this.#second = new Array<number>(strings).fill(0);
  }

  /** Are both never engaged together? */
  get never(): boolean {
    return this.#rows.feet.length === 0;
  }

  /** Gives the first control its pulls on this neck. */
  fix(pulls: readonly PlainPull[]): void {
    this.#lay([]);
    this.#first.fill(0);
    this.#firstMask = 0;
    for (const { string, semitones } of pulls) {
      this.#first[string - 1] = semitones;
      this.#firstMask |= 1 << (string - 1);
    }
    for (let s = 0; s < this.#first.length; s++) this.#set(s, 0);
  }

  /**
   * The sum by which shapes under both controls are easier than `now`, on all grips that hold every string
   * of some pulls of the second control, where it has no pulls but these; `now` stays as it is.
   *
   * @param meeting only grips on which the first control moves something too
   */
  worth(pulls: readonly PlainPull[], now: Eases, meeting: boolean): number {
    const sum = this.raise(pulls, now, meeting, true);
    this.putBack(now);
    return sum;
  }

  /**
   * Brings into `now` what shapes under both controls give, and tells the sum by which it is easier.
   *
   * @param pulls of the second control on this neck
   * @param holding only grips that hold all of them; else all grips, or those that hold any where `meeting`
   */
  raise(pulls: readonly PlainPull[], now: Eases, meeting: boolean, holding: boolean): number {
    this.#lay(pulls);
    let mask = 0;
    for (const { string } of pulls) mask |= 1 << (string - 1);
    const grips = holding && mask !== 0 ? this.#thatHold(mask) : this.#rows.grips;
    let sum = 0;
    for (const played of grips) {
      const { grip } = played;
      if (meeting && ((grip & this.#firstMask) === 0 || (grip & mask) === 0)) continue;
      sum += this.#raising.raise(this.#rows, played, now);
    }
    return sum;
  }

  /** Takes out of `now` what was brought in. */
  putBack(now: Eases): void {
    this.#raising.putBack(now);
  }

  #thatHold(mask: number): readonly PlayedGrip[] {
    let grips = this.#holding.get(mask);
    if (grips === undefined) {
      grips = this.#rows.grips.filter(({ grip }) => (grip & mask) === mask);
      this.#holding.set(mask, grips);
    }
    return grips;
  }

  #lay(pulls: readonly PlainPull[]): void {
    const second = this.#second;
    for (let s = 0; s < second.length; s++) {
      let wanted = 0;
      for (const { string, semitones } of pulls) if (string - 1 === s) wanted = semitones;
      if (wanted !== second[s]) this.#set(s, wanted);
    }
  }

  #set(s: number, semitones: number): void {
    const own = this.#first[s] as number;
    this.#second[s] = semitones;
    this.#rows.pull(s, Math.max(0, own, semitones), Math.min(0, own, semitones));
  }
}
