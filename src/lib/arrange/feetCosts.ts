/** The prices of what feet and knees do between two footings, in thousandths, each worked out once. */
import { engagedCode } from '$lib/setup/engagedText';
import type { Choice } from '$lib/setup/reach';
import type { Engaged, Setup } from '$lib/setup/setup';
import { thousandths, thousandthsOf } from '$lib/effort/effort';
import { engagingBy } from '$lib/effort/engaging';
import { Feet } from '$lib/effort/feet';
import { footAt } from '$lib/effort/move';
import { MOVE_WEIGHTS, type WayBalance } from '$lib/effort/weights';
import { Rows } from './rows';
import { notNeeded, type Held } from './stage';

/** A control, by its number in the setup from 0, with its state. */
const controlCode = (number: number, state: Engaged['state']): number =>
  2 * number + (state === 'half' ? 1 : 0);

/** The control of a `controlCode`. */
export const controlOf = (code: number): number => code >> 1;

/** What is engaged, and what of it is not needed; control c of the setup in bit c. */
interface Footing {
  readonly engaged: number;
  /** Those at their half-stops. */
  readonly half: number;
  readonly idle: number;
  /** What is needed, and the number of that. */
  readonly needs: Choice;
  readonly needing: number;
  /** Where the left foot stands for that; `undefined` where it holds no pedal. */
  readonly foot: number | undefined;
}

/** How many bits are set. */
function bitsIn(set: number): number {
  let many = 0;
  for (let left = set; left !== 0; left &= left - 1) many++;
  return many;
}

/** What feet and knees cost under a balance. */
export class FeetCosts {
  readonly #setup: Setup;
  readonly #balance: WayBalance;
  readonly #feet: Feet;
  readonly #controls: ReadonlyMap<string, number>;
  readonly #footings: Footing[] = [];
  readonly #numbers = new Map<string, number>();
  /** The same for lists that were met before: a combination has one, whatever is reached with it. */
  readonly #seen = new WeakMap<Choice, Map<string, number>>();
  /** By all that is needed, and what of it is there already in which state: engaging the rest. */
  readonly #engaging: Int32Array[] = [];
  readonly #rows = new Rows(64);

  constructor(setup: Setup, balance: WayBalance, middle: number | undefined) {
    this.#setup = setup;
    this.#balance = balance;
    this.#feet = new Feet(setup, middle);
    this.#controls = new Map(setup.controls.map(({ id }, number) => [id, number]));
  }

  /** A control with its state, as a number. */
  codeOf({ id, state }: Engaged): number {
    return controlCode(this.#controls.get(id) ?? 0, state);
  }

  /** What is engaged somewhere, by its number here; whoever asks may number combinations otherwise. */
  numberOf({ engaged, needs, idle }: Pick<Held, 'engaged' | 'needs' | 'idle'>): number {
    const seen = this.#seen.get(engaged)?.get(idle);
    if (seen !== undefined) return seen;
    const number = this.#numberBy({ engaged, needs, idle });
    const own = this.#seen.get(engaged) ?? new Map<string, number>();
    this.#seen.set(engaged, own);
    own.set(idle, number);
    return number;
  }

  #numberBy({ engaged, needs, idle }: Pick<Held, 'engaged' | 'needs' | 'idle'>): number {
    const code = `${engagedCode(engaged)}/${idle}`;
    const known = this.#numbers.get(code);
    if (known !== undefined) return known;
    const isPlain = idle === '';
    const needing = isPlain
      ? this.#footings.length
      : this.numberOf({ engaged: needs, needs, idle: '' });
    const number = this.#footings.length;
    this.#numbers.set(code, number);
    const bits = (choice: Choice): number =>
      choice.reduce((all, { id }) => all | (1 << (this.#controls.get(id) ?? 0)), 0);
    this.#footings.push({
      engaged: bits(engaged),
      half: bits(engaged.filter(({ state }) => state === 'half')),
      idle: isPlain ? 0 : bits(notNeeded(engaged, needs)),
      needs,
      needing,
      foot: footAt(this.#setup, needs),
    });
    return number;
  }

  /** By footing: going there from one, −1 where it has not been worked out. */
  from(footing: number): Int32Array {
    return this.#rows.at(footing, this.#footings.length);
  }

  /** Works out going from one footing to another: `feetMoveTerms` and `engagingTerms` without lists. */
  between(from: number, to: number): number {
    const a = this.#footings[from] as Footing;
    const b = this.#footings[to] as Footing;
    const changed =
      bitsIn(b.engaged & ~a.engaged) +
      bitsIn(a.engaged & ~b.engaged & ~a.idle) +
      bitsIn(b.idle & ~a.idle) +
      bitsIn(a.engaged & b.engaged & (a.half ^ b.half));
    const carried = a.foot === undefined || b.foot === undefined ? 0 : Math.abs(a.foot - b.foot);
    const moved = MOVE_WEIGHTS.control * changed + MOVE_WEIGHTS.footPerPedal * carried;
    return thousandthsOf(moved, this.#balance.feet) + this.#engagingFrom(a, b);
  }

  /** Engaging what is needed where nothing is engaged. */
  arrival(needs: Choice): number {
    return this.#engage([], needs);
  }

  #engage(from: Choice, to: Choice): number {
    return thousandths(engagingBy(this.#feet, from, to), 'feet', this.#balance);
  }

  /** What is there already of all that is needed decides, each control of it away, full or half. */
  #engagingFrom({ engaged, half }: Footing, { needs, needing }: Footing): number {
    let there = 0;
    for (const { id } of needs) {
      const bit = 1 << (this.#controls.get(id) ?? 0);
      there = 3 * there + ((engaged & bit) === 0 ? 0 : (half & bit) === 0 ? 1 : 2);
    }
    const prices = (this.#engaging[needing] ??= new Int32Array(3 ** needs.length).fill(-1));
    const known = prices[there] as number;
    if (known >= 0) return known;
    const before = needs.flatMap(({ id }): Engaged[] => {
      const bit = 1 << (this.#controls.get(id) ?? 0);
      return (engaged & bit) === 0 ? [] : [{ id, state: (half & bit) === 0 ? 'full' : 'half' }];
    });
    return (prices[there] = this.#engage(before, needs));
  }
}
