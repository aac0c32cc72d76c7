/** A stiff string: partial n lies at n · hz · √(1 + stiffness · n²). */
export interface Stiff {
  readonly hz: number;
  readonly stiffness: number;
}

/** The frequency of a partial in hertz; 1 is the lowest. */
export const partialAt = ({ hz, stiffness }: Stiff, n: number): number =>
  n * hz * Math.sqrt(1 + stiffness * n * n);
