/** Where a call comes from, and where its words go. */

interface Words {
  write(text: string): unknown;
  /** Somebody looks on. */
  readonly isTTY?: boolean;
  /** Somebody may still read. */
  readonly writable: boolean;
}

export interface Terminal {
  /** For answers. */
  readonly out: Words;
  /** For everything else. */
  readonly err: Words;
  /** The folder that paths are meant from. */
  readonly folder: string;
  /** There is somebody who can be asked. */
  readonly asks: boolean;
}

let present: Terminal | undefined;

export function callingAt(terminal: Terminal): void {
  present = terminal;
}

/** The terminal of the call that is being answered. */
export function terminal(): Terminal {
  if (present === undefined) throw new Error('nobody has called yet');
  return present;
}
