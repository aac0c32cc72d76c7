/**
 * What is stored of one document, and the moves through its history, as plain data. Every edit is a
 * step with the whole text in it; steps are only ever added, so nothing that was once written can be
 * lost by what is done later. Only letters typed in one go take the place of the letter before them.
 * Undo and redo move the head among the steps; a version is a name for a step.
 */
import { PAUSE_MS } from './letters';

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
  /** Its past holds no letters that nothing leads to, as earlier programs left them. */
  readonly clean?: true;
}

export interface StoredDocument {
  readonly entry: Entry;
  /**
   * In the order of their numbers: the newest, the head with its near past, and those that versions name.
   * What lies before is read when it is asked for.
   */
  readonly steps: readonly Step[];
  readonly versions: readonly Version[];
  /** What was found to be missing when it was read from the device. */
  readonly lost?: Loss;
}

/**
 * What a history has lost: the step that was shown last; where in it one was; or a step that Undo would
 * lead to.
 */
export type Loss = 'newest' | 'place' | 'past';

/** What one or more moves add to what is stored. */
export interface Change {
  readonly entry: Entry;
  readonly steps: readonly Step[];
  readonly versions: readonly Version[];
  /** The numbers of those steps that take the place of what was typed a moment before. */
  readonly joined: readonly number[];
}

/** Whether an edit is one step with the one before it: where that has the same label, or the one given. */
export type Joins = boolean | string;

export interface Edit {
  readonly do: 'edit';
  readonly text: string;
  readonly name: string;
  readonly label: string;
  /** Only with an edit that is no older than a pause. */
  readonly joins: Joins;
  readonly at: number;
  /** Milliseconds without a letter before those that it brings; the time since the step before where left out. */
  readonly paused?: number;
}

export type Move =
  | Edit
  | { readonly do: 'show'; readonly step: number; readonly at: number }
  | { readonly do: 'version'; readonly step: number; readonly name: string; readonly at: number }
  /** Off the list, or back on it where there is no time. */
  | { readonly do: 'delete'; readonly at: number | undefined };

/** The place of a step in a list by number, or of the one that would come after it. */
function placeOf(steps: readonly Step[], number: number): number {
  let [low, high] = [0, steps.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((steps[middle]?.number ?? Infinity) < number) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** A step, if it is in hand. */
export function stepAt({ steps }: StoredDocument, number: number): Step | undefined {
  const step = steps[placeOf(steps, number)];
  return step?.number === number ? step : undefined;
}

export function headOf(stored: StoredDocument): Step {
  const step = stepAt(stored, stored.entry.head);
  if (step === undefined) throw new Error(`the head ${stored.entry.head} is not in hand`);
  return step;
}

/** The number of the newest step. */
const newest = ({ steps }: StoredDocument): number => steps.at(-1)?.number ?? 0;

/** The step that Undo leads to, if it is in hand. */
export const undoStep = (stored: StoredDocument): Step | undefined =>
  stepAt(stored, headOf(stored).after);

/** The step that Redo leads to: of those made on the head, the latest. */
export const redoStep = (stored: StoredDocument): Step | undefined =>
  stored.steps.findLast((step) => step.after === stored.entry.head);

/** From the head back to the first step, as far as they are in hand. */
export function pastOf(stored: StoredDocument): Step[] {
  const past: Step[] = [];
  let step: Step | undefined = headOf(stored);
  // a step is made on one before it, so that this ends
  while (step !== undefined) {
    past.push(step);
    step = stepAt(stored, step.after);
  }
  return past;
}

/** With more steps in hand. */
export function withSteps(stored: StoredDocument, more: readonly Step[]): StoredDocument {
  const all = new Map([...more, ...stored.steps].map((step) => [step.number, step]));
  return { ...stored, steps: [...all.values()].sort((a, b) => a.number - b.number) };
}

function joinedTo(stored: StoredDocument, edit: Edit): boolean {
  const head = headOf(stored);
  return (
    edit.joins !== false &&
    head.after !== 0 &&
    head.label === (edit.joins === true ? edit.label : edit.joins) &&
    head.number === newest(stored) &&
    (edit.paused ?? edit.at - head.at) < PAUSE_MS &&
    !stored.versions.some(({ step }) => step === head.number)
  );
}

const unnamed = (entry: Entry, ...steps: Step[]): Change => ({
  entry,
  steps,
  versions: [],
  joined: [],
});

/** What a move changes. An edit of a document that is deleted puts it back. */
export function changeOf(stored: StoredDocument, move: Move): Change {
  const { deleted: _, ...entry } = stored.entry;
  switch (move.do) {
    case 'edit': {
      const { text, name, label, at } = move;
      const joins = joinedTo(stored, move);
      const number = joins ? entry.head : newest(stored) + 1;
      const after = joins ? headOf(stored).after : entry.head;
      const step = { number, after, label, at, name, text };
      return {
        ...unnamed({ ...entry, name, head: number, changed: at }, step),
        joined: joins ? [number] : [],
      };
    }
    case 'show': {
      const name = stepAt(stored, move.step)?.name ?? entry.name;
      return unnamed({ ...stored.entry, name, head: move.step, changed: move.at });
    }
    case 'version': {
      const { step, name, at } = move;
      const number = Math.max(0, ...stored.versions.map((each) => each.number)) + 1;
      return { ...unnamed(stored.entry), versions: [{ number, step, name, at }] };
    }
    case 'delete':
      return unnamed(move.at === undefined ? entry : { ...entry, deleted: move.at });
  }
}

export const applied = (stored: StoredDocument, change: Change): StoredDocument => ({
  entry: change.entry,
  steps: [...stored.steps.filter(({ number }) => !change.joined.includes(number)), ...change.steps],
  versions: [...stored.versions, ...change.versions],
});

/** Several changes, one after the other, as one. */
export function together(changes: readonly Change[]): Change | undefined {
  const last = changes.at(-1);
  if (last === undefined) return undefined;
  const steps = new Map<number, Step>();
  const joined = new Set<number>();
  for (const change of changes)
    for (const step of change.steps) {
      // what begins within these changes takes no other's place
      if (change.joined.includes(step.number) && !steps.has(step.number)) joined.add(step.number);
      steps.set(step.number, step);
    }
  return {
    entry: last.entry,
    steps: [...steps.values()],
    versions: changes.flatMap(({ versions }) => versions),
    joined: [...joined],
  };
}

/** The whole of a document as one change. */
export const wholeOf = ({ entry, steps, versions }: StoredDocument): Change => ({
  entry,
  steps,
  versions,
  joined: [],
});

/** A document that has just been made. */
export const newDocument = (
  id: string,
  kind: string,
  first: { readonly name: string; readonly text: string; readonly label: string },
  at: number,
): StoredDocument => ({
  entry: { id, kind, name: first.name, revision: 0, head: 1, made: at, changed: at, clean: true },
  steps: [{ number: 1, after: 0, at, ...first }],
  versions: [],
});
