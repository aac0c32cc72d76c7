/** Practice's questions: the course of a setup, and a card as it is asked this time. */
import { cardsOf, type Card } from '$lib/practice/cards';
import { courseOf } from '$lib/practice/course';
import type { CoursePosition } from '$lib/practice/position';
import { taskOf, type Task } from '$lib/practice/task';
import type { Setup } from '$lib/setup/setup';

/** The course of a setup. */
export const practiceCourse = (setup: Setup): readonly CoursePosition[] => courseOf(setup);

/** A card of the course as it is asked; `undefined` where the setup's course has no such card. */
export function practiceTask(setup: Setup, id: string, turn: number): Task | undefined {
  const course = courseOf(setup);
  const card = course
    .flatMap((position): readonly Card[] => cardsOf(course, position))
    .find((each) => each.id === id);
  return card && taskOf(setup, card, turn);
}
