/** What a view of an open document shows. */
import type { Reading } from './reading';
import type { Version } from './storedDocument';

/** What is asked where another tab changed the same place at the same moment. */
export interface AskedWhich {
  /** The places with what both say; none where that cannot be told in words. */
  readonly places: readonly Reading[];
  /** What the other tab did, by the label of its edit. */
  readonly label: string;
}

/** A new object after every change. */
export interface OpenState<T> {
  readonly value: T;
  readonly name: string;
  /** What Undo would take back, and Redo bring again. */
  readonly undoes: string | undefined;
  readonly redoes: string | undefined;
  /** The named versions, oldest first. */
  readonly versions: readonly Version[];
  /** Everything that was done is on the device. */
  readonly saved: boolean;
  /** It has been on the device, if not as it is now. */
  readonly lasting: boolean;
  readonly deleted: boolean;
  readonly changed: number;
  /** Why something is not stored, as a sentence. */
  readonly problem: string | undefined;
  /** What another tab did, as a sentence. */
  readonly notice: string | undefined;
  /** Which of two readings is to stand, until it is answered. */
  readonly asks: AskedWhich | undefined;
}
