/**
 * One file with everything that is kept: documents with their whole histories and versions, and choices.
 * Restored on another device it is merged with what is there: nothing is overwritten.
 */
import { ok, refuse, type Result } from '$lib/result';
import { isRecord } from '$lib/setup/parsed';
import { recovered, stepIn } from './recovered';
import type { Change, Step, StoredDocument, Version } from './storedDocument';

const EVERYTHING_FORMAT = 1;
const PROGRAM = 'Gripwright';

export interface Everything {
  readonly documents: readonly StoredDocument[];
  /** How the player likes things, by the names that they are kept under. */
  readonly choices: Readonly<Record<string, string>>;
}

/** Longer than any choice is. */
const MOST_CHOICE = 100_000;

/**
 * Whether a name on the device is that of a choice: all that the program keeps under its own, but not what
 * speaks of this device alone (`known.ts`, `left.ts`).
 */
export const isChoice = (name: string): boolean =>
  /^gripwright-[a-z0-9-]{1,60}$/.test(name) && !/^gripwright-(known|left)-/.test(name);

export const everythingText = ({ documents, choices }: Everything): string =>
  JSON.stringify({ format: EVERYTHING_FORMAT, program: PROGRAM, choices, documents });

/** Whether a text means to be such a file, so that its faults are told as those of one. */
export const isEverything = (text: string): boolean =>
  new RegExp(`^\\s*\\{"format":\\s*\\d+,\\s*"program":\\s*"${PROGRAM}"`).test(text.slice(0, 100));

/** Where a text stops being JSON: the document, as far as its beginnings tell, and the character. */
function brokenPlace(text: string, error: unknown): string {
  const said = /position (\d+)/.exec(error instanceof Error ? error.message : '')?.[1];
  const at = said === undefined ? text.length : Number(said);
  const begun = text.slice(0, at).split('{"entry":{').length - 1;
  const where = begun === 0 ? 'before the first document' : `in document ${begun}`;
  return `${where}, at character ${Math.min(at + 1, text.length).toLocaleString('en')} of ${text.length.toLocaleString('en')}`;
}

/** Which part of a history cannot be read. */
function spoiltIn(steps: readonly unknown[], read: StoredDocument | undefined): string {
  const step = steps.findIndex((raw) => stepIn(raw) === undefined);
  if (step >= 0) return `step ${step + 1} cannot be read`;
  return read === undefined ? 'its line in the list cannot be read' : 'a version cannot be read';
}

function documentIn(raw: unknown, place: number): Result<StoredDocument, string> {
  const { entry, steps, versions } = isRecord(raw) ? raw : {};
  const id = isRecord(entry) ? entry.id : undefined;
  if (typeof id !== 'string' || id === '' || !Array.isArray(steps) || !Array.isArray(versions))
    return refuse(`Document ${place} of the file has no id, steps and versions.`);
  const read = recovered({ id, entry, steps, versions });
  const whole = read?.steps.length === steps.length && read.versions.length === versions.length;
  if (read === undefined || !whole)
    return refuse(
      `Document ${place} of the file, “${id}”, has a history that cannot be read: ${spoiltIn(steps, read)}.`,
    );
  const numbers = new Set(read.steps.map(({ number }) => number));
  return numbers.size === read.steps.length
    ? ok(read)
    : refuse(`Document ${place} of the file, “${id}”, has a step twice.`);
}

/** Reads such a file; refused as a whole, with a sentence for everything that is wrong. */
export function readEverything(text: string): Result<Everything, readonly string[]> {
  let file: unknown;
  const json = text.replace(/^\uFEFF/, '');
  try {
    file = JSON.parse(json);
  } catch (error) {
    return refuse([
      `The file is not JSON (${brokenPlace(json, error)}); it may have been cut short. Nothing was changed.`,
    ]);
  }
  if (!isRecord(file) || file.program !== PROGRAM || !Array.isArray(file.documents))
    return refuse(['The file is none that “Save everything” has written.']);
  if (file.format !== EVERYTHING_FORMAT)
    return refuse([
      `The file has the format ${JSON.stringify(file.format)}; this program reads ${EVERYTHING_FORMAT}. A newer Gripwright may read it.`,
    ]);
  const read = file.documents.map((each, at) => documentIn(each, at + 1));
  const faults = read.flatMap((each) => (each.ok ? [] : [each.error]));
  if (faults.length > 0) return refuse(faults);
  const { choices } = file;
  const known = isRecord(choices) ? Object.entries(choices) : [];
  return ok({
    documents: read.flatMap((each) => (each.ok ? [each.value] : [])),
    choices: Object.fromEntries(
      known.filter(
        (choice): choice is [string, string] =>
          isChoice(choice[0]) && typeof choice[1] === 'string' && choice[1].length <= MOST_CHOICE,
      ),
    ),
  });
}

/** What is to be written of a document of the file. */
export interface Restoring {
  /** The revision that it is written on; 0 for a new document. */
  readonly on: number;
  readonly change: Change;
  readonly step: Step;
  /** How it comes: new, more of a history that is here, or beside another history of the same id. */
  readonly as: 'new' | 'joined' | 'copy';
}

const sameStep = (a: Step, b: Step | undefined): boolean =>
  b !== undefined && a.text === b.text && a.after === b.after && a.at === b.at;
const sameVersion = (a: Version, b: Version): boolean => a.step === b.step && a.name === b.name;

const byNumber = ({ steps }: StoredDocument): ReadonlyMap<number, Step> =>
  new Map(steps.map((step) => [step.number, step]));

/** All that one history holds is in the other one too. */
const isIn = (part: StoredDocument, whole: StoredDocument): boolean => {
  if (part.steps.length > whole.steps.length) return false;
  const steps = byNumber(whole);
  return (
    part.steps.every((step) => sameStep(step, steps.get(step.number))) &&
    part.versions.every((version) => whole.versions.some((each) => sameVersion(version, each)))
  );
};

const headIn = ({ entry, steps }: StoredDocument): Step => {
  const step = steps.find(({ number }) => number === entry.head);
  if (step === undefined) throw new Error(`no head ${entry.head}`);
  return step;
};

function writing(document: StoredDocument, id: string): Pick<Restoring, 'on' | 'change' | 'step'> {
  const entry = { ...document.entry, id, revision: 0 };
  return {
    on: 0,
    change: { entry, steps: document.steps, versions: document.versions, joined: [] },
    step: headIn(document),
  };
}

/**
 * What is to be written so that all of a document of the file is on the device; `undefined` where it is
 * there already. `newId` gives the id of a copy.
 */
export function restoring(
  here: readonly StoredDocument[],
  document: StoredDocument,
  newId: () => string,
): Restoring | undefined {
  const { kind } = document.entry;
  const alike = here.filter(({ entry }) => entry.kind === kind);
  if (alike.some((each) => isIn(document, each))) return undefined;
  const there = here.find(({ entry }) => entry.id === document.entry.id);
  if (there === undefined) return { ...writing(document, document.entry.id), as: 'new' };
  const steps = byNumber(document);
  const known = byNumber(there);
  const goesOn =
    there.entry.kind === kind &&
    (there.steps.every((step) => sameStep(step, steps.get(step.number))) ||
      document.steps.every((step) => sameStep(step, known.get(step.number))));
  if (!goesOn) return { ...writing(document, newId()), as: 'copy' };
  const more = document.steps.filter(({ number }) => !known.has(number));
  const named = document.versions.filter(
    (version) => !there.versions.some((each) => sameVersion(version, each)),
  );
  const last = Math.max(0, ...there.versions.map(({ number }) => number));
  const lead = more.length > 0 ? document : there;
  return {
    on: there.entry.revision,
    change: {
      entry: { ...lead.entry, id: there.entry.id, revision: there.entry.revision },
      steps: more,
      versions: named.map((version, at) => ({ ...version, number: last + at + 1 })),
      joined: [],
    },
    step: headIn(lead),
    as: 'joined',
  };
}

/** The records after a change, for what is restored next. */
export function afterwards(
  here: readonly StoredDocument[],
  { change }: Restoring,
): readonly StoredDocument[] {
  const { id } = change.entry;
  const there = here.find(({ entry }) => entry.id === id);
  const now: StoredDocument = {
    entry: change.entry,
    steps: [...(there?.steps ?? []), ...change.steps],
    versions: [...(there?.versions ?? []), ...change.versions],
  };
  return [...here.filter(({ entry }) => entry.id !== id), now];
}
