/**
 * What one player's legs and picking hand do other than the rules say: combinations switched off (`reach.never`) and
 * combinations allowed against the rules (`reach.also`).
 *
 * - A combination that holds every control of a `never` set, each in whatever state, is out of reach.
 * - An `also` set says for each limb that it speaks of the whole of what that limb holds. It is met by
 *   a combination in which those limbs hold exactly its controls, in whatever state; the other limbs
 *   are free. A limb that breaks a rule is within reach where a set that speaks of it is met.
 *
 * So `["A", "C"]` allows A and C without B, with any lever; `["A", "C", "LKL"]` allows A and C only
 * while the left knee holds LKL and nothing else. What is switched off stays off whatever is allowed.
 */
import { isHand, isPedal, type Control, type Engaged, type Setup, type Station } from './setup';

/** What works the controls: the foot on the pedals, the knees, and the hand at the strings' end. */
export const LIMBS = ['foot', 'left knee', 'right knee', 'picking hand'] as const;
export type Limb = (typeof LIMBS)[number];

/** The right foot is on the volume pedal, and the other hand on the bar. */
export function limbAt(station: Station): Limb {
  if (isPedal(station)) return 'foot';
  if (isHand(station)) return 'picking hand';
  return station.startsWith('L') ? 'left knee' : 'right knee';
}

/** A set of controls, control c of the setup's list (of at most 20, from 0) in bit c. */
export type ControlSet = number;

const bitAt = (index: number | undefined): ControlSet => (index === undefined ? 0 : 1 << index);

interface Allowed {
  readonly set: ControlSet;
  /** Every control of the limbs that it speaks of. */
  readonly limbs: ControlSet;
}

/** The exceptions from the reach of one setup, ready to be asked about many combinations. */
export class Exceptions {
  readonly #index: ReadonlyMap<string, number>;
  readonly #limb: Readonly<Record<Limb, ControlSet>>;
  readonly #never: readonly ControlSet[];
  readonly #also: readonly Allowed[];

  constructor({ controls, reach }: Setup) {
    this.#index = new Map(controls.map(({ id }, index) => [id, index]));
    const on = (limb: Limb): ControlSet =>
      this.setOf(controls.filter(({ station }) => limbAt(station) === limb));
    this.#limb = {
      foot: on('foot'),
      'left knee': on('left knee'),
      'right knee': on('right knee'),
      'picking hand': on('picking hand'),
    };
    // a search may leave controls aside; what names one of them does not come about
    const known = (lists: readonly (readonly string[])[] = []): ControlSet[] =>
      lists
        .filter((ids) => ids.every((id) => this.#index.has(id)))
        .map((ids) => this.setOf(ids.map((id) => ({ id }))));
    this.#never = known(reach.never);
    this.#also = known(reach.also).map((set) => ({
      set,
      limbs: LIMBS.reduce(
        (limbs, limb) => ((set & this.#limb[limb]) === 0 ? limbs : limbs | this.#limb[limb]),
        0,
      ),
    }));
  }

  get none(): boolean {
    return this.#never.length === 0 && this.#also.length === 0;
  }

  setOf(engaged: readonly Pick<Engaged, 'id'>[]): ControlSet {
    return engaged.reduce((set, { id }) => set | bitAt(this.#index.get(id)), 0);
  }

  /** The set that a combination is switched off by; `undefined` where it is not. */
  switchedOff(held: ControlSet): ControlSet | undefined {
    return this.#never.find((set) => (held & set) === set);
  }

  /** May this limb, in a combination, hold what it does although the rules are against it? */
  allows(limb: Limb, held: ControlSet): boolean {
    return this.#also.some(
      ({ set, limbs }) => (set & this.#limb[limb]) !== 0 && (held & limbs) === set,
    );
  }

  /** What a limb may hold by one `also` set or another, each once. */
  partsOf(limb: Limb): ControlSet[] {
    const parts = this.#also.map(({ set }) => set & this.#limb[limb]);
    return [...new Set(parts)].filter((part) => part !== 0);
  }

  /** The controls in a set, in the order of a setup's list. */
  static controlsIn(set: ControlSet, controls: readonly Control[]): Control[] {
    return controls.filter((_, index) => (set & (1 << index)) !== 0);
  }
}
