/** A day's round: what comes next, from what is due and what is new. */
import { CARD_KINDS, cardsOf, cardId, type Answers, type Card } from './cards';
import type { CoursePosition } from './position';
import { standingOf } from './schedule';

/** Positions that are learned together. */
export const AT_A_TIME = 10;
/** A round takes so many minutes. */
export const ROUND_MINUTES = 10;
/** Cards that come for the first time in one round: two for three minutes, which leaves room for those that come again. */
export const MOST_NEW = 12;
/** A card that is due within so many minutes comes at the end of a round already. */
const AHEAD_MINUTES = 5;
/** A position's next kind of card waits for so many further positions. */
const APART = 3;

/** What a round is picked from. */
export interface RoundOf {
  readonly course: readonly CoursePosition[];
  readonly answers: Answers;
  /** Milliseconds since 1970. */
  readonly now: number;
  /** When the day began for the player, in milliseconds since 1970. */
  readonly dayBegan: number;
  /** Cards that only playing answers come too. */
  readonly isHeard?: boolean;
  /** New cards that may come today. */
  readonly mostNew?: number;
}

/** A position is known when it was found and named rightly the last time. */
export const isKnown = (answers: Answers, { id }: CoursePosition): boolean =>
  (['find', 'name'] as const).every((kind) => {
    const all = answers.get(cardId(kind, id));
    return all !== undefined && standingOf(all).isRight;
  });

/** The positions that are open now: the blocks that are known, and the first that is not. */
export function openPositions(
  course: readonly CoursePosition[],
  answers: Answers,
): readonly CoursePosition[] {
  const firstUnknown = course.findIndex((position) => !isKnown(answers, position));
  if (firstUnknown < 0) return course;
  return course.slice(0, (Math.floor(firstUnknown / AT_A_TIME) + 1) * AT_A_TIME);
}

/** Cards that were answered before, of the course as it is now, those that are due first at first. */
function begun({ course, answers, isHeard = false }: RoundOf): { card: Card; due: number }[] {
  return course
    .flatMap((position) => cardsOf(course, position))
    .flatMap((card) => {
      const all = answers.get(card.id);
      if (all === undefined || (card.kind === 'tune' && !isHeard)) return [];
      return [{ card, due: standingOf(all).due }];
    })
    .sort((a, b) => a.due - b.due);
}

/** Cards that may come for the first time, in order: a position's own follow one another at a distance. */
function fresh({ course, answers, isHeard = false }: RoundOf): Card[] {
  const open = openPositions(course, answers);
  const waiting = open.flatMap((position, place) =>
    cardsOf(course, position).flatMap((card) => {
      if (answers.has(card.id) || (card.kind === 'tune' && !isHeard)) return [];
      return [{ card, place: place + APART * CARD_KINDS.indexOf(card.kind) }];
    }),
  );
  return waiting.sort((a, b) => a.place - b.place).map(({ card }) => card);
}

/** How many cards came for the first time today. */
const newToday = ({ answers, dayBegan }: RoundOf): number =>
  [...answers.values()].filter(([first]) => (first?.at ?? 0) * 1000 >= dayBegan).length;

/** What today asks: the cards that are due, the most urgent first, and those that are new. */
export interface Today {
  readonly due: readonly Card[];
  readonly fresh: readonly Card[];
}

/** The cards of the day. */
export function todayOf(of: RoundOf): Today {
  const left = Math.max(0, (of.mostNew ?? MOST_NEW) - newToday(of));
  return {
    due: begun(of)
      .filter(({ due }) => due <= of.now)
      .map(({ card }) => card),
    fresh: fresh(of).slice(0, left),
  };
}

/**
 * The card that comes next: what is due, else what is new, else what is due in a few minutes; `undefined` where the
 * day is done.
 *
 * @param after the card that was answered last, which does not come twice in a row where there is another
 */
export function nextCard(of: RoundOf, after?: string): Card | undefined {
  const { due, fresh: coming } = todayOf(of);
  const soon = begun(of)
    .filter(({ due: at }) => at > of.now && at <= of.now + AHEAD_MINUTES * 60_000)
    .filter(({ card }) => standingOf(of.answers.get(card.id) ?? []).isLearning)
    .map(({ card }) => card);
  const all = [...due, ...coming, ...soon];
  return all.find(({ id }) => id !== after) ?? all[0];
}

/** When something is due again, in milliseconds since 1970; `undefined` where nothing was answered yet. */
export const nextDue = (of: RoundOf): number | undefined => begun(of)[0]?.due;
