/** When cards come again, against the library's own schedule; and what a day's round is made of. */
import fc from 'fast-check';
import { createEmptyCard, fsrs } from 'ts-fsrs';
import { describe, expect, it } from 'vitest';
import { cardId, type Answers } from '$lib/practice/cards';
import { courseOf } from '$lib/practice/course';
import { gradeOf } from '$lib/practice/judge';
import { byDay, knowingOf } from '$lib/practice/progress';
import { nextCard, openPositions, todayOf, type RoundOf } from '$lib/practice/round';
import { GRADES, standingOf, together, type Answered } from '$lib/practice/schedule';
import { builtIn } from '$lib/setup/builtIns';
import { runs } from '../../battery';

const MONDAY = Date.UTC(2026, 2, 2, 18) / 1000;
const HOUR = 3600;
const DAY = 24 * HOUR;

const answered = fc
  .array(
    fc.record({ after: fc.integer({ min: 1, max: 60 * DAY }), grade: fc.constantFrom(...GRADES) }),
    {
      minLength: 1,
      maxLength: 12,
    },
  )
  .map((steps) => {
    let at = MONDAY;
    return steps.map(({ after, grade }): Answered => ({ at: (at += after), grade }));
  });

describe('a card comes again', () => {
  it('when the library says, whatever was answered before', () => {
    fc.assert(
      fc.property(answered, (answers) => {
        const [first] = answers;
        // the library's own way from a list of reviews to a card
        const { collections } = fsrs().reschedule(
          createEmptyCard((first?.at ?? 0) * 1000),
          answers.map(({ at, grade }) => ({
            rating: GRADES.indexOf(grade) + 1,
            review: at * 1000,
          })),
        );
        const card = collections.at(-1)?.card;
        const standing = standingOf(answers);
        expect(standing.due).toBe(card?.due.getTime());
        expect(standing.stabilityDays).toBe(card?.stability);
      }),
      { numRuns: runs(100) },
    );
  });

  it('in a minute after a miss, in days once it is known, later the better it is known', () => {
    // the first steps of FSRS with its own defaults: one minute, ten minutes
    const one = (grade: Answered['grade']): number =>
      standingOf([{ at: MONDAY, grade }]).due / 1000 - MONDAY;
    expect(one('again')).toBe(60);
    expect(one('good')).toBe(600);
    expect(one('easy')).toBeGreaterThanOrEqual(DAY);
    const twice = standingOf([
      { at: MONDAY, grade: 'good' },
      { at: MONDAY + DAY, grade: 'good' },
    ]);
    expect(twice.isLearning).toBe(false);
    expect(twice.due / 1000 - MONDAY).toBeGreaterThan(2 * DAY);
  });

  it('the same for answers of two devices put together in either order', () => {
    fc.assert(
      fc.property(answered, answered, (a, b) => {
        const all = together(a, b);
        expect(together(b, a)).toEqual(all);
        expect(together(all, a)).toEqual(all);
        expect(all.map(({ at }) => at)).toEqual([...all.map(({ at }) => at)].sort((x, y) => x - y));
      }),
      { numRuns: runs(50) },
    );
  });

  it.each([
    ['right', 1, 3, 'easy'],
    ['right', 1, 12, 'good'],
    ['right', 2, 12, 'hard'],
    ['right', 3, 12, 'again'],
    ['shown', 0, 3, 'again'],
  ] as const)('%s at try %i after %i s counts as %s', (how, tries, seconds, grade) => {
    expect(gradeOf(how, tries, seconds)).toBe(grade);
  });
});

describe('a round', () => {
  const course = courseOf(builtIn('lap6-c6'));
  const now = MONDAY * 1000;
  const dayBegan = now - 10 * HOUR * 1000;
  const round = (answers: Answers, change: Partial<RoundOf> = {}): RoundOf => ({
    ...{ course, answers, now, dayBegan },
    ...change,
  });
  const id = (kind: 'find' | 'name', place: number): string =>
    cardId(kind, course[place]?.id ?? '');
  const good = (at: number): readonly Answered[] => [{ at, grade: 'good' }];

  it('begins with twelve new cards: positions in their order, found before they are named', () => {
    const { due, fresh } = todayOf(round(new Map()));
    expect(due).toEqual([]);
    expect(fresh).toHaveLength(12);
    expect(fresh.slice(0, 5).map((card) => card.id)).toEqual([
      id('find', 0),
      id('find', 1),
      id('find', 2),
      id('name', 0),
      id('find', 3),
    ]);
    expect(fresh.every(({ kind }) => kind !== 'tune')).toBe(true);
    const { fresh: all } = todayOf(round(new Map(), { isHeard: true, mostNew: 999 }));
    expect(all.some(({ kind }) => kind === 'tune')).toBe(true);
    // ten positions at a time
    expect(new Set(all.map(({ position }) => position.id)).size).toBe(10);
  });

  it('brings what is due first, the longest due at first, and nothing before its time', () => {
    const answers = new Map([
      [id('find', 1), good(MONDAY - DAY)],
      [id('find', 0), good(MONDAY - 3 * DAY)],
      [id('find', 2), good(MONDAY - 60)],
    ]);
    const { due, fresh } = todayOf(round(answers));
    expect(due.map((card) => card.id)).toEqual([id('find', 0), id('find', 1)]);
    // one of the twelve came a minute ago; yesterday's do not count
    expect(fresh).toHaveLength(11);
    expect(nextCard(round(answers))?.id).toBe(id('find', 0));
    expect(nextCard(round(answers), id('find', 0))?.id).toBe(id('find', 1));
  });

  it('brings a missed card once more before it ends, and then is done', () => {
    const missed = new Map([[id('find', 0), [{ at: MONDAY, grade: 'again' as const }]]]);
    expect(nextCard(round(missed, { mostNew: 0 }))?.id).toBe(id('find', 0));
    const known = new Map([[id('find', 0), good(MONDAY)]]);
    expect(nextCard(round(known, { mostNew: 0 }))).toBeUndefined();
  });

  it('opens the next ten when the ten before are found and named', () => {
    const answers = new Map<string, readonly Answered[]>();
    const learn = (place: number, grade: Answered['grade'] = 'good'): void => {
      for (const kind of ['find', 'name'] as const)
        answers.set(id(kind, place), [{ at: MONDAY, grade }]);
    };
    for (let place = 0; place < 9; place++) learn(place);
    expect(openPositions(course, answers)).toHaveLength(10);
    learn(9, 'again');
    expect(openPositions(course, answers)).toHaveLength(10);
    learn(9);
    expect(openPositions(course, answers)).toHaveLength(20);
    const [first] = course;
    if (first === undefined) throw new Error('no course');
    expect(knowingOf(course, answers, first)).toBe('known');
    expect(byDay(answers, () => 7)).toEqual(new Map([[7, { answered: 20, right: 20 }]]));
  });
});
