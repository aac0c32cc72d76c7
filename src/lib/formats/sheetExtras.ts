/**
 * What other parts of the program may add to a bench sheet, as plain text in its place: tuning
 * targets or tensions a string, shares a pull, work a control.
 */

export interface StringColumn {
  readonly heading: string;
  readonly cells: readonly {
    readonly neck: number;
    readonly string: number;
    readonly text: string;
  }[];
}

/** One more line in the cell of every pull. */
export interface PullLine {
  /** Said once under the chart. */
  readonly meaning: string;
  readonly cells: readonly {
    readonly control: string;
    readonly neck: number;
    readonly string: number;
    readonly text: string;
  }[];
}

/** One more row under the chart. */
export interface ControlRow {
  readonly heading: string;
  readonly cells: readonly { readonly control: string; readonly text: string }[];
}

export interface SheetExtras {
  readonly strings?: readonly StringColumn[];
  readonly pulls?: readonly PullLine[];
  readonly controls?: readonly ControlRow[];
}
