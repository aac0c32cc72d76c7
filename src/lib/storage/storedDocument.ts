/**
 * What is stored of one document, and the moves through its history, as plain data. Every edit is a
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

export interface StoredDocument {
  readonly entry: Entry;
  /** In order; step n stands at n − 1. */
  readonly steps: readonly Step[];
  readonly versions: readonly Version[];
}

/** What one or more moves add to what is stored. */
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

export function stepAt(stored: StoredDocument, number: number): Step {
  const step = stored.steps[number - 1];
  if (step === undefined) throw new Error(`no step ${number} among ${stored.steps.length}`);
  return step;
}

export const headOf = (stored: StoredDocument): Step => stepAt(stored, stored.entry.head);

/** The step that Undo leads to. */
export const undoStep = (stored: StoredDocument): Step | undefined => {
  const { after } = headOf(stored);
  return after === 0 ? undefined : stepAt(stored, after);
};

/** The step that Redo leads to: of those made on the head, the latest. */
export const redoStep = (stored: StoredDocument): Step | undefined =>
  stored.steps.findLast((step) => step.after === stored.entry.head);

/** From the head back to the first step. */
export function pastOf(stored: StoredDocument): Step[] {
  const past: Step[] = [];
  for (let number = stored.entry.head; number !== 0;) {
    const step = stepAt(stored, number);
    past.push(step);
    number = step.after;
  }
  return past;
}

function joinedTo(stored: StoredDocument, edit: Edit): boolean {
  const head = headOf(stored);
  return (
    edit.joins &&
    head.after !== 0 &&
    head.label === edit.label &&
    head.number === stored.steps.length &&
    edit.at - head.at < PAUSE_MS &&
    !stored.versions.some(({ step }) => step === head.number)
  );
}

/** What a move changes. An edit of a document that is deleted puts it back. */
export function changeOf(stored: StoredDocument, move: Move): Change {
  const { deleted: _, ...entry } = stored.entry;
  switch (move.do) {
    case 'edit': {
      const { text, name, label, at } = move;
      const number = stored.steps.length + 1;
      const after = joinedTo(stored, move) ? headOf(stored).after : entry.head;
      return {
        entry: { ...entry, name, head: number, changed: at },
        steps: [{ number, after, label, at, name, text }],
        versions: [],
      };
    }
    case 'show': {
      const { name } = stepAt(stored, move.step);
      return {
        entry: { ...stored.entry, name, head: move.step, changed: move.at },
        steps: [],
        versions: [],
      };
    }
    case 'version': {
      const { step, name, at } = move;
      return {
        entry: stored.entry,
        steps: [],
        versions: [{ number: stored.versions.length + 1, step, name, at }],
      };
    }
  }
}

export const applied = (stored: StoredDocument, change: Change): StoredDocument => ({
  entry: change.entry,
  steps: [...stored.steps, ...change.steps],
  versions: [...stored.versions, ...change.versions],
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
export const newDocument = (
  id: string,
  kind: string,
  first: { readonly name: string; readonly text: string; readonly label: string },
  at: number,
): StoredDocument => ({
  entry: { id, kind, name: first.name, revision: 0, head: 1, made: at, changed: at },
  steps: [{ number: 1, after: 0, at, ...first }],
  versions: [],
});
