/**
 * What is kept of one document, and the moves through its history, as plain data. Every edit is a
 * step with the whole text in it; steps are only ever added, so nothing that was once written can be
 * lost by what is done later. Undo and redo move the head among the steps; a version is a name for
 * a step.
 */

export interface Step {
  /** 1, 2, 3 …: the order in which steps were made. */
  readonly number: number;
  /** The step that Undo leads to; 0 for the first. */
  readonly after: number;
  /** What was done, for Undo and Redo to name: “string 5 to C♯”. */
  readonly label: string;
  /** Milliseconds since 1970. */
  readonly at: number;
  readonly name: string;
  readonly text: string;
}

export interface Version {
  readonly number: number;
  readonly step: number;
  readonly name: string;
  readonly at: number;
}

/** The line of a document in the list of all. */
export interface Entry {
  readonly id: string;
  readonly kind: string;
  readonly name: string;
  /** Grows by one with every write, whichever tab made it. */
  readonly revision: number;
  /** The step that is shown. */
  readonly head: number;
  readonly made: number;
  readonly changed: number;
  /** When it was deleted; until it is deleted for good it can be put back. */
  readonly deleted?: number;
}

export interface Kept {
  readonly entry: Entry;
  /** In order; step n stands at n − 1. */
  readonly steps: readonly Step[];
  readonly versions: readonly Version[];
}

/** What one or more moves add to what is kept. */
export interface Change {
  readonly entry: Entry;
  readonly steps: readonly Step[];
  readonly versions: readonly Version[];
}

export interface Edit {
  readonly do: 'edit';
  readonly text: string;
  readonly name: string;
  readonly label: string;
  /** One step with the edit before it, where that has the same label and is no older than a pause. */
  readonly joins: boolean;
  readonly at: number;
}

export type Move =
  | Edit
  | { readonly do: 'show'; readonly step: number; readonly at: number }
  | { readonly do: 'version'; readonly step: number; readonly name: string; readonly at: number };

/** A pause in typing that is long enough to begin a new step. */
const PAUSE_MS = 1500;

export function stepAt(kept: Kept, number: number): Step {
  const step = kept.steps[number - 1];
  if (step === undefined) throw new Error(`no step ${number} among ${kept.steps.length}`);
  return step;
}

export const headOf = (kept: Kept): Step => stepAt(kept, kept.entry.head);

/** The step that Undo leads to. */
export const before = (kept: Kept): Step | undefined => {
  const { after } = headOf(kept);
  return after === 0 ? undefined : stepAt(kept, after);
};

/** The step that Redo leads to: of those made on the head, the latest. */
export const beyond = (kept: Kept): Step | undefined =>
  kept.steps.findLast((step) => step.after === kept.entry.head);

/** From the head back to the first step. */
export function pastOf(kept: Kept): Step[] {
  const past: Step[] = [];
  for (let number = kept.entry.head; number !== 0;) {
    const step = stepAt(kept, number);
    past.push(step);
    number = step.after;
  }
  return past;
}

function joinedTo(kept: Kept, edit: Edit): boolean {
  const head = headOf(kept);
  return (
    edit.joins &&
    head.after !== 0 &&
    head.label === edit.label &&
    head.number === kept.steps.length &&
    edit.at - head.at < PAUSE_MS &&
    !kept.versions.some(({ step }) => step === head.number)
  );
}

/** What a move changes. An edit of a document that is deleted puts it back. */
export function changeOf(kept: Kept, move: Move): Change {
  const { deleted: _, ...entry } = kept.entry;
  switch (move.do) {
    case 'edit': {
      const { text, name, label, at } = move;
      const number = kept.steps.length + 1;
      const after = joinedTo(kept, move) ? headOf(kept).after : entry.head;
      return {
        entry: { ...entry, name, head: number, changed: at },
        steps: [{ number, after, label, at, name, text }],
        versions: [],
      };
    }
    case 'show': {
      const { name } = stepAt(kept, move.step);
      return {
        entry: { ...kept.entry, name, head: move.step, changed: move.at },
        steps: [],
        versions: [],
      };
    }
    case 'version': {
      const { step, name, at } = move;
      return {
        entry: kept.entry,
        steps: [],
        versions: [{ number: kept.versions.length + 1, step, name, at }],
      };
    }
  }
}

export const applied = (kept: Kept, change: Change): Kept => ({
  entry: change.entry,
  steps: [...kept.steps, ...change.steps],
  versions: [...kept.versions, ...change.versions],
});

/** Several changes, one after the other, as one. */
export const together = (changes: readonly Change[]): Change | undefined => {
  const last = changes.at(-1);
  return (
    last && {
      entry: last.entry,
      steps: changes.flatMap(({ steps }) => steps),
      versions: changes.flatMap(({ versions }) => versions),
    }
  );
};

/** A document that has just been made. */
export const begun = (
  id: string,
  kind: string,
  first: { readonly name: string; readonly text: string; readonly label: string },
  at: number,
): Kept => ({
  entry: { id, kind, name: first.name, revision: 0, head: 1, made: at, changed: at },
  steps: [{ number: 1, after: 0, at, ...first }],
  versions: [],
});
