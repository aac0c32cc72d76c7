/** What every way of reading a chart gives: strings, controls and pulls as they are written. */
import type { Chroma } from '$lib/theory/pitch';
import type { Piece } from './doubts';
import type { Label } from './label';
import type { NoteWord } from './noteWord';
import type { Manner, PullPlace, Travel } from './pull';
import type { StationName } from './stationName';

/** A string as it is written. */
export interface WrittenString extends Label {
  readonly piece: Piece;
}

/** A control as it is written. */
export interface WrittenControl {
  readonly piece: Piece;
  readonly name: StationName;
}

/** What a control does to a string. */
export interface WrittenPull {
  /** Of the neck's `strings`, from 0. */
  readonly string: number;
  /** Of the neck's `controls`, from 0. */
  readonly control: number;
  readonly piece: Piece;
  /** The pull on a string whose open note is known; `undefined` where it is none. */
  readonly travel: (open: Chroma, manner: Manner, place: PullPlace) => Travel | 'blank' | undefined;
}

/** What a control does to every string of an open note: `raises the E strings to F`. */
export interface NotedPull extends Omit<WrittenPull, 'string'> {
  readonly note: NoteWord;
}

/** A neck as it is written. */
export interface WrittenNeck {
  readonly name?: string;
  /** In the order of the chart. */
  readonly strings: readonly WrittenString[];
  readonly controls: readonly WrittenControl[];
  readonly pulls: readonly WrittenPull[];
  readonly byNote?: readonly NotedPull[];
  readonly leftOut: readonly Piece[];
  /** The open notes stood string 1 last, though nothing says so; `strings` has them string 1 first. */
  readonly turned?: boolean;
}

/** A chart as it is written: its necks, and what stands beside them. */
export interface Written {
  readonly necks: readonly WrittenNeck[];
  readonly beside: readonly Piece[];
  /** How much sense it makes. */
  readonly score: number;
}
