/**
 * When a card comes again. What is kept is every answer with its time; the schedule is worked out from them
 * by the Free Spaced Repetition Scheduler (FSRS, of the package `ts-fsrs`) with its own defaults, without chance.
 */
import { knownWith } from '$lib/engine/memo';
import { createEmptyCard, fsrs, type Card as Scheduled, type Grade as LibraryGrade } from 'ts-fsrs';

/** How an answer was, worst first; the library's numbers are one more than the places here. */
export const GRADES = ['again', 'hard', 'good', 'easy'] as const;
/** How an answer was: wrong or shown; right at the second try; right; right at once. */
export type Grade = (typeof GRADES)[number];

/** One answer. */
export interface Answered {
  /** When, in whole seconds since 1970. */
  readonly at: number;
  readonly grade: Grade;
}

/** What is known of a card from its answers. */
export interface Standing {
  /** When it comes again, in milliseconds since 1970. */
  readonly due: number;
  /** Still in the steps of minutes of a first day, or of a day on which it was forgotten. */
  readonly isLearning: boolean;
  /** Days after which nine of ten such answers would still be right. */
  readonly stabilityDays: number;
  /** The last answer was right. */
  readonly isRight: boolean;
}

/** The library's states in which minutes count, and not days: learning and relearning. */
const LEARNING: readonly number[] = [1, 3];

// no fuzz: the same answers give the same day on every device
const scheduler = fsrs({ enable_fuzz: false });
const STANDING = Symbol('where a card stands');

const libraryGrade = (grade: Grade): LibraryGrade => GRADES.indexOf(grade) + 1;

/**
 * Where a card stands after its answers, of which there must be one at least, in the order of time.
 *
 * @throws where there is none
 */
export const standingOf = (answers: readonly Answered[]): Standing =>
  knownWith(answers, STANDING, () => standingAfter(answers));

function standingAfter(answers: readonly Answered[]): Standing {
  const [first] = answers;
  const last = answers.at(-1);
  if (first === undefined || last === undefined) throw new Error('no answer to schedule by');
  let card: Scheduled = createEmptyCard(first.at * 1000);
  for (const { at, grade } of answers)
    ({ card } = scheduler.next(card, at * 1000, libraryGrade(grade)));
  return {
    due: card.due.getTime(),
    isLearning: LEARNING.includes(card.state),
    stabilityDays: card.stability,
    isRight: last.grade !== 'again',
  };
}

/** Two records of one card as one: every answer of either once, in the order of time. */
export function together(a: readonly Answered[], b: readonly Answered[]): readonly Answered[] {
  const all = new Map([...a, ...b].map((each) => [`${each.at}/${each.grade}`, each]));
  return [...all.values()].sort(
    (one, other) => one.at - other.at || GRADES.indexOf(one.grade) - GRADES.indexOf(other.grade),
  );
}
