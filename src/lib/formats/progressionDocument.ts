/** The text of a progression's document, as it is kept, saved as a file and carried by a link. */

/** The newest; it is for what has a draft, which earlier programs would drop. */
export const PROGRESSION_FORMAT = 3;
/** With a tune beside the chords, and without: files that earlier programs read. */
export const [WITH_TUNE, WITHOUT_TUNE] = [2, 1];

/** What stands in it. */
export interface ProgressionText {
  /** The id of the setup, as addresses name it. */
  readonly setup: string;
  readonly chords: string;
  /** The preferences that are given, in their usual order. */
  readonly wishes: Readonly<Record<string, string | undefined>>;
  /** What a text of chords cannot say. */
  readonly tune?: string | undefined;
  readonly draft?: string | undefined;
}

/** The document as text. */
export function progressionDocument({
  setup,
  chords,
  wishes,
  tune,
  draft,
}: ProgressionText): string {
  const older = tune === undefined ? WITHOUT_TUNE : WITH_TUNE;
  return JSON.stringify({
    format: draft === undefined ? older : PROGRESSION_FORMAT,
    ...{ setup, chords, wishes },
    ...(tune === undefined ? {} : { tune }),
    ...(draft === undefined ? {} : { draft }),
  });
}
