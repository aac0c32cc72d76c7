/** What a player has answered, as text: every answer of every card with its time. */
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/practiceFaults';
import { ok, refuse, type Result } from '$lib/result';
import { isRecord } from '$lib/setup/parsed';
import type { Answers } from './cards';
import { GRADES, together, type Answered } from './schedule';

/** What is kept of the practice on one setup. */
export interface Practice {
  /** The setup's id. */
  readonly setup: string;
  readonly name: string;
  readonly answers: Answers;
}

const FORMAT = 1;
/** A record of ten answers a day over thirty years is shorter. */
const MOST_CHARACTERS = 2_000_000;
const MOST_NAME = 200;
const MOST_ID = 200;

/** Times and grades in turn, as a file has them. */
const numbersOf = (answers: readonly Answered[]): number[] =>
  answers.flatMap(({ at, grade }) => [at, GRADES.indexOf(grade) + 1]);

/** The same back; nothing where it is not that. */
function answersIn(numbers: unknown): readonly Answered[] | undefined {
  if (!Array.isArray(numbers) || numbers.length === 0 || numbers.length % 2 !== 0) return undefined;
  const all: Answered[] = [];
  for (let place = 0; place < numbers.length; place += 2) {
    const at: unknown = numbers[place];
    const grade = GRADES[Number(numbers[place + 1]) - 1];
    if (!Number.isSafeInteger(at) || (at as number) < 0 || grade === undefined) return undefined;
    all.push({ at: at as number, grade });
  }
  return together(all, []);
}

/** The text of a file. */
export const practiceText = ({ setup, name, answers }: Practice): string =>
  JSON.stringify({
    format: FORMAT,
    practice: name,
    setup,
    answers: Object.fromEntries([...answers].map(([id, all]) => [id, numbersOf(all)])),
  });

/** Reads such a text; all that is wrong with it is told. */
export function readPractice(text: string): Result<Practice, readonly DocumentFault[]> {
  if (text.length > MOST_CHARACTERS)
    return refuse([fault('practice.tooLong', '', text.length, MOST_CHARACTERS)]);
  let document: unknown;
  try {
    document = JSON.parse(text);
  } catch {
    return refuse([fault('practice.notJson', '')]);
  }
  if (!isRecord(document) || !isRecord(document['answers']))
    return refuse([fault('practice.notARecord', '')]);
  const { format, practice: name, setup, answers } = document;
  const faults: DocumentFault[] = [];
  if (format !== FORMAT) faults.push(fault('practice.format', 'format', format, FORMAT));
  if (typeof setup !== 'string' || setup.length > MOST_ID)
    faults.push(fault('practice.text', 'setup', MOST_ID));
  if (typeof name !== 'string' || name.length > MOST_NAME)
    faults.push(fault('practice.text', 'practice', MOST_NAME));
  const read = new Map<string, readonly Answered[]>();
  for (const [id, numbers] of Object.entries(answers as Record<string, unknown>)) {
    const all = answersIn(numbers);
    if (all === undefined || id.length > MOST_ID)
      faults.push(fault('practice.answers', `answers.${id.slice(0, MOST_ID)}`));
    else read.set(id, all);
  }
  if (faults.length > 0) return refuse(faults);
  return ok({ setup: setup as string, name: name as string, answers: read });
}

/** The record with one answer more. */
export function withAnswer(practice: Practice, card: string, answer: Answered): Practice {
  const answers = new Map(practice.answers);
  answers.set(card, together(answers.get(card) ?? [], [answer]));
  return { ...practice, answers };
}

/** The record without one answer, which was taken back. */
export function withoutAnswer(practice: Practice, card: string, answer: Answered): Practice {
  const answers = new Map(practice.answers);
  const left = without(answers.get(card) ?? [], [answer]);
  if (left.length > 0) answers.set(card, left);
  else answers.delete(card);
  return { ...practice, answers };
}

const key = ({ at, grade }: Answered): string => `${at}/${grade}`;
const without = (all: readonly Answered[], these: readonly Answered[]): readonly Answered[] => {
  const keys = new Set(these.map(key));
  return all.filter((each) => !keys.has(key(each)));
};

/** Every answer of both records once, as of two devices of one player. */
export const bothAnswers = (a: Answers, b: Answers): Answers => mergedAnswers(new Map(), a, b);

/** What two tabs have made of one record: what either has added is in, what either took back is not. */
export function mergedAnswers(base: Answers, mine: Answers, theirs: Answers): Answers {
  const all = new Map<string, readonly Answered[]>();
  for (const id of new Set([...mine.keys(), ...theirs.keys()])) {
    const [was, here, there] = [base, mine, theirs].map((each) => each.get(id) ?? []) as [
      readonly Answered[],
      readonly Answered[],
      readonly Answered[],
    ];
    const takenBack = [...without(was, here), ...without(was, there)];
    const left = without(together(here, there), takenBack);
    if (left.length > 0) all.set(id, left);
  }
  return all;
}
