/** Which step is due at a time. */

/** When a step is due. */
export interface Due {
  /** Its index among all steps of the progression. */
  readonly index: number;
  /** Seconds from the start. */
  readonly at: number;
}

/** The step that is due at a time; `undefined` before the first. */
export function dueAt(due: readonly Due[], seconds: number): number | undefined {
  let index: number | undefined;
  for (const each of due) {
    if (each.at > seconds + 1e-6) break;
    index = each.index;
  }
  return index;
}
