/** An effort: its terms, what they come to part by part, and the total. */
import { EVEN, PARTS, type Balance, type Term } from './weights';

/** Efforts are counted in thousandths, so that sums of them are exact and orders total. */
export const PER_UNIT = 1000;

export interface Effort {
  readonly total: number;
  readonly feet: number;
  readonly picking: number;
  readonly bar: number;
  readonly terms: readonly Term[];
}

/** Thousandths of one part's terms under a balance. */
export function thousandths<P extends string>(
  terms: readonly { readonly part: P; readonly value: number }[],
  part: P,
  balance: { readonly [part in P]: number },
): number {
  let sum = 0;
  for (const term of terms) if (term.part === part) sum += term.value;
  return Math.round(sum * balance[part] * PER_UNIT);
}

/** Adds terms up; the terms stay as the weights give them, the parts under the balance. */
export function effortOf(terms: readonly Term[], balance: Balance = EVEN): Effort {
  const [feet, picking, bar] = PARTS.map((part) => thousandths(terms, part, balance)) as [
    number,
    number,
    number,
  ];
  return {
    total: (feet + picking + bar) / PER_UNIT,
    feet: feet / PER_UNIT,
    picking: picking / PER_UNIT,
    bar: bar / PER_UNIT,
    terms,
  };
}
