/** How far a player has come: by position, and by day. */
import { cardsOf, type Answers } from './cards';
import type { CoursePosition } from './position';
import { isKnown } from './round';
import { standingOf } from './schedule';

/** How well a position is known. */
export type Knowing = 'new' | 'begun' | 'known' | 'firm';

/** Known for three weeks and more is firm: by then it is of the hand, our own judgement. */
const FIRM_DAYS = 21;

/** How well a position is known by the answers of its cards. */
export function knowingOf(
  course: readonly CoursePosition[],
  answers: Answers,
  position: CoursePosition,
): Knowing {
  const all = cardsOf(course, position).flatMap(({ id }) => {
    const own = answers.get(id);
    return own === undefined ? [] : [standingOf(own)];
  });
  if (all.length === 0) return 'new';
  if (!isKnown(answers, position)) return 'begun';
  return Math.min(...all.map(({ stabilityDays }) => stabilityDays)) >= FIRM_DAYS ? 'firm' : 'known';
}

/** What was answered on one day. */
export interface DayOf {
  readonly answered: number;
  /** Of these, rightly. */
  readonly right: number;
}

/**
 * What was answered by day, by the number of the day.
 *
 * @param dayOf the number of the day in which a moment (milliseconds since 1970) lies where the player is
 */
export function byDay(
  answers: Answers,
  dayOf: (moment: number) => number,
): ReadonlyMap<number, DayOf> {
  const days = new Map<number, DayOf>();
  for (const all of answers.values())
    for (const { at, grade } of all) {
      const day = dayOf(at * 1000);
      const { answered, right } = days.get(day) ?? { answered: 0, right: 0 };
      days.set(day, { answered: answered + 1, right: right + (grade === 'again' ? 0 : 1) });
    }
  return days;
}
