/** An effort: its terms, what they come to part by part, and the total. */
import { EVEN, PARTS, type Balance, type Term, type WorkBalance } from './weights';

/** Efforts are counted in thousandths, so that sums of them are exact and orders total. */
export const PER_UNIT = 1000;

export interface Effort {
  readonly total: number;
  readonly feet: number;
  readonly picking: number;
  readonly bar: number;
  /** 0 where no chord is asked for. */
  readonly clarity: number;
  readonly terms: readonly Term[];
}

/** Thousandths of an effort under a weight; counted before it is weighed, as below. */
export const thousandthsOf = (value: number, weight: number): number =>
  Math.round(Math.round(value * PER_UNIT) * weight);

/**
 * Thousandths of one part's terms under a balance. They are counted before they are weighed, so that a
 * part whose terms were priced apart and added comes to the same.
 */
export function thousandths<P extends string>(
  terms: readonly { readonly part: string; readonly value: number }[],
  part: P,
  balance: { readonly [part in P]: number },
): number {
  let sum = 0;
  for (const term of terms) if (term.part === part) sum += term.value;
  return thousandthsOf(sum, balance[part]);
}

/** Adds terms up; the terms stay as the weights give them, the parts under the balance. */
export function effortOf(
  terms: readonly Term[],
  balance: WorkBalance & Partial<Balance> = EVEN,
): Effort {
  const whole: Balance = { ...EVEN, ...balance };
  const [feet, picking, bar, clarity] = PARTS.map((part) => thousandths(terms, part, whole)) as [
    number,
    number,
    number,
    number,
  ];
  return {
    total: (feet + picking + bar + clarity) / PER_UNIT,
    feet: feet / PER_UNIT,
    picking: picking / PER_UNIT,
    bar: bar / PER_UNIT,
    clarity: clarity / PER_UNIT,
    terms,
  };
}
