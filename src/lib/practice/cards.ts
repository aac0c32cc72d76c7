/** The cards of a course: what is asked of each of its positions. */
import type { Answered } from './schedule';
import type { CoursePosition } from './position';

/** Find it, name it, hear it, move to it, play it in tune. */
export const CARD_KINDS = ['find', 'name', 'hear', 'move', 'tune'] as const;
/** What a card asks. */
export type CardKind = (typeof CARD_KINDS)[number];

/** One thing that is asked again and again. */
export interface Card {
  /** `find/` and the id of its position. */
  readonly id: string;
  readonly kind: CardKind;
  readonly position: CoursePosition;
  /** Where a move begins. */
  readonly from?: CoursePosition;
}

/** By card, all its answers in the order of time; a card without any is not in it. */
export type Answers = ReadonlyMap<string, readonly Answered[]>;

/** The id of a position's card of a kind. */
export const cardId = (kind: CardKind, position: string): string => `${kind}/${position}`;

/** The cards of a position, in the order in which they come first. */
export function cardsOf(
  course: readonly CoursePosition[],
  position: CoursePosition,
): readonly Card[] {
  const from = course.find(({ id }) => id === position.near);
  return CARD_KINDS.flatMap((kind): Card[] => {
    const card = { id: cardId(kind, position.id), kind, position };
    if (kind !== 'move') return [card];
    // the bar alone on another neck is nothing to move to
    return from === undefined || from.neck !== position.neck ? [] : [{ ...card, from }];
  });
}

/** How often a card was answered rightly: each time it is asked at another fret. */
export const turnOf = (answers: readonly Answered[] | undefined): number =>
  (answers ?? []).filter(({ grade }) => grade !== 'again').length;
