/** Where the stops of a neck ought to lie: equal, just, or sweetened by least squares. */
import { Matrix, QrDecomposition, SVD } from 'ml-matrix';
import type { Setup } from '$lib/setup/setup';
import { justOffset, type Seventh } from './justRatios';
import { offsetSum, type OffsetSum, type Stop } from './stops';
import type { Use } from './uses';

/** What should hold of a use: where each tone lies, and where it ought to, up to a common shift. */
export interface Wish {
  readonly sums: readonly OffsetSum[];
  /** Just offset of each tone from the root, in cents from equal temperament. */
  readonly just: readonly number[];
  /** The index of the root's tone; of the first where the root is left out. */
  readonly root: number;
  readonly weight: number;
}

/**
 * What a use of a chord asks of the stops: how the offset of each of its tones comes about (in cents,
 * by stop), and where it lies in just intonation. `seventh` is the ratio of a dominant seventh, where
 * one is chosen; `at` is where the stops stand, about which splits are taken for straight lines.
 */
export const wishOf = (
  setup: Setup,
  stops: readonly Stop[],
  use: Use,
  seventh?: Seventh,
  at?: ArrayLike<number>,
): Wish => ({
  sums: use.strings.map((string) => offsetSum(setup, stops, use.neck, string, use.engaged, at)),
  just: use.tones.map((degree) => justOffset(degree, use.degrees, seventh)),
  root: Math.max(0, use.tones.indexOf('1')),
  weight: use.weight,
});

/** `coefficients · offsets = value`. */
interface Equation {
  readonly coefficients: Float64Array;
  readonly value: number;
}

function addTo(row: Float64Array, { terms }: OffsetSum, factor: number): void {
  for (const [stop, times] of terms) row[stop] = (row[stop] ?? 0) + factor * times;
}

/** Each tone against the middle of its chord: the chord as a whole may lie where it likes. */
function centred({ sums, just }: Wish, stops: number): Equation[] {
  const n = sums.length;
  return sums.map((_, tone): Equation => {
    const coefficients = new Float64Array(stops);
    let value = 0;
    sums.forEach((sum, other) => {
      const factor = (other === tone ? 1 : 0) - 1 / n;
      addTo(coefficients, sum, factor);
      value += factor * ((just[other] ?? 0) - sum.constant);
    });
    return { coefficients, value };
  });
}

/** Each tone against the root. */
function aboveRoot({ sums, just, root }: Wish, stops: number): Equation[] {
  const base = sums[root];
  return sums.flatMap((sum, tone): Equation[] => {
    if (tone === root || base === undefined) return [];
    const coefficients = new Float64Array(stops);
    addTo(coefficients, sum, 1);
    addTo(coefficients, base, -1);
    const interval = (just[tone] ?? 0) - (just[root] ?? 0);
    return [{ coefficients, value: interval - sum.constant + base.constant }];
  });
}

/**
 * The same least squares with no more equations than unknowns: the triangle of the QR decomposition of
 * the equations with their right side as a last column. It spares the singular values most of their work.
 */
function triangular(rows: readonly number[][], values: readonly number[]) {
  const unknowns = rows[0]?.length ?? 0;
  if (rows.length <= unknowns + 1)
    return { matrix: new Matrix([...rows]), right: Matrix.columnVector([...values]) };
  const whole = new Matrix(rows.map((row, index) => [...row, values[index] ?? 0]));
  const triangle = new QrDecomposition(whole).upperTriangularMatrix;
  const last = Math.max(0, unknowns - 1);
  return {
    matrix: triangle.subMatrix(0, last, 0, last),
    right: triangle.subMatrix(0, last, unknowns, unknowns),
  };
}

export interface Sweetening {
  /** The index of the stop that stays at equal temperament. */
  readonly anchor: number;
  /**
   * How much each stop is drawn towards equal temperament, against the weights of the wishes; 0 not at
   * all, Infinity wholly.
   */
  readonly strength?: number;
}

/**
 * Offsets that bring the weighted squares of all deviations from just intonation to their least, with
 * one stop fixed. Where the wishes leave a stop free, the least offsets are taken (singular value
 * decomposition).
 */
export function sweeten(
  stops: number,
  wishes: readonly Wish[],
  { anchor, strength = 0 }: Sweetening,
): Float64Array {
  const offsets = new Float64Array(stops);
  if (strength === Infinity || stops < 2) return offsets;
  const rows: number[][] = [];
  const values: number[] = [];
  const add = (coefficients: ArrayLike<number>, value: number, weight: number): void => {
    const root = Math.sqrt(weight);
    // the anchor is known, so it has no column
    rows.push(Array.from(coefficients, (each) => root * each).filter((_, stop) => stop !== anchor));
    values.push(root * value);
  };
  for (const wish of wishes)
    for (const { coefficients, value } of centred(wish, stops))
      add(coefficients, value, wish.weight);
  if (strength > 0)
    for (let stop = 0; stop < stops; stop++)
      if (stop !== anchor) add(single(stops, stop).coefficients, 0, strength);
  if (rows.length === 0) return offsets;
  const { matrix, right } = triangular(rows, values);
  const solved = new SVD(matrix, { autoTranspose: true }).solve(right);
  for (let stop = 0; stop < stops; stop++)
    if (stop !== anchor) offsets[stop] = solved.get(stop < anchor ? stop : stop - 1, 0);
  return offsets;
}

/** What is smaller than this is nothing: rounding of sums of a few numbers. */
const NOTHING = 1e-9;

/** The equation that says that one stop lies at equal temperament. */
const single = (stops: number, stop: number): Equation => ({
  coefficients: Float64Array.from({ length: stops }, (_, each) => Number(each === stop)),
  value: 0,
});

interface Settled {
  /** The stop that the equation settles. */
  readonly pivot: number;
  readonly equation: Equation;
}

/** Gaussian elimination, one equation after the other. */
function elimination() {
  /** Each reduced by all before it. */
  const settled: Settled[] = [];
  const reduced = (asked: Equation): Equation & { readonly pivot: number } => {
    const row = asked.coefficients.slice();
    let { value } = asked;
    for (const { pivot, equation } of settled) {
      const factor = row[pivot] ?? 0;
      if (Math.abs(factor) < NOTHING) continue;
      equation.coefficients.forEach((each, stop) => (row[stop] = (row[stop] ?? 0) - factor * each));
      row[pivot] = 0;
      value -= factor * equation.value;
    }
    const pivot = row.reduce(
      (best, each, stop) => (Math.abs(each) > Math.abs(row[best] ?? 0) ? stop : best),
      0,
    );
    return { coefficients: row, value, pivot };
  };
  /** Adds an equation if it says something new; whether it agrees with what is settled. */
  const settle = (asked: Equation): boolean => {
    const { coefficients: row, value, pivot } = reduced(asked);
    const head = row[pivot] ?? 0;
    if (Math.abs(head) < NOTHING) return Math.abs(value) < 1e-6;
    settled.push({
      pivot,
      equation: { coefficients: row.map((each) => each / head), value: value / head },
    });
    return true;
  };
  /** Does an equation say nothing that is not settled? */
  const says = (asked: Equation): boolean => {
    const { coefficients, pivot } = reduced(asked);
    return Math.abs(coefficients[pivot] ?? 0) < NOTHING;
  };
  return { settled, settle, says };
}

/**
 * Which stops the wishes decide, with the anchor: those whose offset follows from them, whatever the
 * others do. By index of the stop.
 */
export function decidedBy(stops: number, wishes: readonly Wish[], anchor: number): boolean[] {
  const { settle, says } = elimination();
  settle(single(stops, anchor));
  for (const wish of wishes) aboveRoot(wish, stops).forEach(settle);
  return Array.from({ length: stops }, (_, stop) => says(single(stops, stop)));
}

export interface Justified {
  readonly offsets: Float64Array;
  /** Indexes of wishes that contradict earlier ones, and stay impure. */
  readonly impure: readonly number[];
}

/**
 * Offsets that make the wishes pure in their order. What an earlier wish has settled stays; a later one
 * that contradicts it is left impure. Stops that no wish settles stay at equal temperament. (Gaussian
 * elimination, one equation after the other.)
 */
export function justify(stops: number, wishes: readonly Wish[], anchor: number): Justified {
  const { settled, settle } = elimination();
  const alone = (stop: number): Equation => single(stops, stop);
  settle(alone(anchor));
  const impure = wishes.flatMap((wish, index) => {
    const agrees = aboveRoot(wish, stops).map(settle);
    return agrees.every(Boolean) ? [] : [index];
  });
  for (let stop = 0; stop < stops; stop++) settle(alone(stop));

  const offsets = new Float64Array(stops);
  for (const { pivot, equation } of [...settled].reverse()) {
    let value = equation.value;
    equation.coefficients.forEach((each, stop) => {
      if (stop !== pivot) value -= each * (offsets[stop] ?? 0);
    });
    offsets[pivot] = value;
  }
  return { offsets, impure };
}
