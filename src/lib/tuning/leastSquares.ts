/** Linear least squares by the normal equations (Cholesky). */

/** What a fit knows: its coefficients, what it leaves over, and how surely each coefficient is known. */
export interface Solved {
  /** In the order of the columns. */
  readonly fit: Float64Array;
  /** What no column accounts for. */
  readonly rest: Float64Array;
  /** Sum of the squares of the rest. */
  readonly off: number;
  /**
   * uᵀ(AᵀA)⁻¹u of a sum of coefficients, given by `[column, factor]`: times the variance of the noise it is
   * the variance of that sum.
   */
  readonly spread: (of: readonly (readonly [column: number, factor: number])[]) => number;
}

/**
 * Fits `x` by a sum of columns. A little, `ridge` a sample, is added to what cannot be told apart, which
 * keeps near likenesses from tearing.
 */
export function leastSquares(
  columns: readonly Float64Array[],
  x: Float64Array,
  ridge: number,
): Solved {
  const n = columns.length;
  const l = Array.from({ length: n }, () => new Float64Array(n));
  const right = new Float64Array(n);
  const little = ridge * x.length;
  for (let i = 0; i < n; i++) {
    const one = columns[i] as Float64Array;
    const row = l[i] as Float64Array;
    for (let j = 0; j <= i; j++) {
      const other = columns[j] as Float64Array;
      let sum = 0;
      for (let k = 0; k < x.length; k++) sum += (one[k] as number) * (other[k] as number);
      row[j] = sum;
    }
    let sum = 0;
    for (let k = 0; k < x.length; k++) sum += (one[k] as number) * (x[k] as number);
    right[i] = sum;
  }
  for (let i = 0; i < n; i++) {
    const row = l[i] as Float64Array;
    for (let j = 0; j <= i; j++) {
      const other = l[j] as Float64Array;
      let sum = (row[j] as number) + (i === j ? little : 0);
      for (let k = 0; k < j; k++) sum -= (row[k] as number) * (other[k] as number);
      row[j] = i === j ? Math.sqrt(Math.max(sum, little)) : sum / (other[j] as number);
    }
  }
  /** L⁻¹u, in place. */
  const down = (u: Float64Array): Float64Array => {
    for (let i = 0; i < n; i++) {
      const row = l[i] as Float64Array;
      let sum = u[i] as number;
      for (let k = 0; k < i; k++) sum -= (row[k] as number) * (u[k] as number);
      u[i] = sum / (row[i] as number);
    }
    return u;
  };
  const fit = down(right);
  for (let i = n - 1; i >= 0; i--) {
    let sum = fit[i] as number;
    for (let k = i + 1; k < n; k++)
      sum -= ((l[k] as Float64Array)[i] as number) * (fit[k] as number);
    fit[i] = sum / ((l[i] as Float64Array)[i] as number);
  }
  const rest = x.slice();
  for (const [k, column] of columns.entries())
    for (let i = 0; i < rest.length; i++)
      rest[i] = (rest[i] as number) - (column[i] as number) * (fit[k] as number);
  return {
    fit,
    rest,
    off: rest.reduce((sum, each) => sum + each * each, 0),
    spread: (of) => {
      const u = new Float64Array(n);
      for (const [column, factor] of of) u[column] = factor;
      return down(u).reduce((sum, each) => sum + each * each, 0);
    },
  };
}
