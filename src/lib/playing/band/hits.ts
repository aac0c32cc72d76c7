/** What the band's parts speak of before and after they have pitches; all in seconds from the part's beginning. */
import type { Chord } from '$lib/theory/chord';

/** A place of a grid in time. */
export interface Hit {
  readonly at: number;
  readonly lasts: number;
  /** 0 … 1. */
  readonly level: number;
  /** As it stands in the grid. */
  readonly letter: string;
}

/** A chord and how long it holds. */
export interface ChordSpan {
  readonly from: number;
  readonly until: number;
  readonly chord: Chord | 'no chord';
  /** The chord after it; none at the end, and before no chord. */
  readonly next?: Chord;
}

/** A note with its pitch. */
export interface Pitched {
  readonly at: number;
  readonly lasts: number;
  readonly level: number;
  readonly midi: number;
}
