/** The first course of a setup, held against plain counting on strings and pulls. */
import { beforeAll, describe, expect, it } from 'vitest';
import { courseOf } from '$lib/practice/course';
import { fretOfTurn } from '$lib/practice/frets';
import { chordAt, fretsOf, type CoursePosition } from '$lib/practice/position';
import { BUILT_IN_IDS, builtIn, type BuiltInId } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';

/** Semitones over the root that say a type, all of them and those without which it is another; any textbook. */
const TONES: Readonly<
  Record<string, { readonly all: readonly number[]; readonly must: readonly number[] }>
> = {
  '': { all: [0, 4, 7], must: [0, 4] },
  m: { all: [0, 3, 7], must: [0, 3] },
  '7': { all: [0, 4, 7, 10], must: [0, 4, 10] },
  m7: { all: [0, 3, 7, 10], must: [0, 3, 10] },
  maj7: { all: [0, 4, 7, 11], must: [0, 4, 11] },
  dim: { all: [0, 3, 6], must: [0, 3, 6] },
  aug: { all: [0, 4, 8], must: [0, 4, 8] },
  '6': { all: [0, 4, 7, 9], must: [0, 4, 9] },
  sus4: { all: [0, 5, 7], must: [0, 5] },
};

/** What a string sounds over the nut: its note and the sum of raise and lower that are engaged. */
function soundAt(setup: Setup, { neck, engaged, slant }: CoursePosition, string: number): number {
  expect(slant).toBe(0);
  const open = setup.necks[neck - 1]?.strings[string - 1]?.open.midi ?? NaN;
  const moves = engaged.flatMap(({ id, state }) =>
    (setup.controls.find((each) => each.id === id)?.pulls ?? [])
      .filter((pull) => pull.neck === neck && pull.string === string)
      .map((pull) => (state === 'half' ? (pull.half ?? pull.semitones) : pull.semitones)),
  );
  return open + Math.max(0, ...moves) + Math.min(0, ...moves);
}

const courses = new Map<BuiltInId, readonly CoursePosition[]>();
beforeAll(() => {
  for (const id of BUILT_IN_IDS) courses.set(id, courseOf(builtIn(id)));
});
const of = (id: BuiltInId): readonly CoursePosition[] => courses.get(id) ?? [];

describe.each(BUILT_IN_IDS)('the course of %s', (id) => {
  it('has thirty positions and more, each once, on frets where it lies', () => {
    const course = of(id);
    expect(course.length).toBeGreaterThanOrEqual(30);
    expect(new Set(course.map((each) => each.id)).size).toBe(course.length);
    for (const each of course) expect(fretsOf(builtIn(id), each).length).toBeGreaterThan(5);
  });

  it('has each new position near one that came before it', () => {
    const course = of(id);
    for (const [place, position] of course.entries()) {
      const near = course.slice(0, place).find((each) => each.id === position.near);
      if (place === 0) {
        expect(position.engaged).toEqual([]);
        expect(position.near).toBeUndefined();
        continue;
      }
      expect(near, position.id).toBeDefined();
      if (near === undefined) continue;
      const code = (each: CoursePosition): string[] =>
        each.engaged.map((one) => `${one.id}:${one.state}`);
      // a control in another state is one change, and counts once
      const changed = new Set(
        [
          ...code(position).filter((one) => !code(near).includes(one)),
          ...code(near).filter((one) => !code(position).includes(one)),
        ].map((one) => one.split(':')[0]),
      );
      if (near.neck !== position.neck) {
        expect([...code(near), ...code(position)]).toEqual([]);
        continue;
      }
      expect(changed.size, position.id).toBeLessThanOrEqual(2);
      const shared = position.strings.filter((string) => near.strings.includes(string)).length;
      expect(
        Math.max(position.strings.length, near.strings.length) - shared,
        position.id,
      ).toBeLessThanOrEqual(1);
    }
  });

  it('has positions that sound the chord which they are for', () => {
    const setup = builtIn(id);
    let looked = 0;
    for (const position of of(id)) {
      const tones = TONES[position.type];
      if (tones === undefined || position.slant !== 0) continue;
      looked++;
      const over = new Set(
        position.strings.map(
          (string) => (soundAt(setup, position, string) - position.root + 120) % 12,
        ),
      );
      for (const tone of over) expect(tones.all, position.id).toContain(tone);
      for (const tone of tones.must) expect([...over], position.id).toContain(tone);
    }
    expect(looked).toBeGreaterThan(15);
  });
});

describe('the order of a course', () => {
  it('begins on E9 with what a teacher begins with: the open chord, then A and B pressed', () => {
    // common practice of the trade, and the first lesson of every method for E9
    const first = of('e9')
      .slice(0, 3)
      .map(({ type, engaged, strings }) => [
        type,
        engaged.map(({ id }) => id).join('+'),
        strings.join(),
      ]);
    expect(first).toEqual([
      ['', '', '3,4,5'],
      ['', '', '4,5,6'],
      ['', 'A+B', '3,4,5'],
    ]);
  });

  it('brings each type about as often as players need it, and none twice before a commoner one', () => {
    for (const id of ['e9', 'c6'] as const) {
      const count = (type: string): number =>
        of(id)
          .slice(0, 30)
          .filter((each) => each.type === type).length;
      // shares of the everyday repertoire: major 57 of 100, minor 13, seventh 9, minor seventh 8
      expect(count('')).toBeGreaterThan(count('m'));
      expect(count('m')).toBeGreaterThanOrEqual(count('7'));
      expect(count('7#9')).toBeLessThanOrEqual(1);
      for (const type of ['m', '7', 'm7']) expect(count(type), `${id} ${type}`).toBeGreaterThan(0);
    }
  });

  it('asks a position first in a usual key, and then on every root that it reaches', () => {
    const setup = builtIn('e9');
    const [first] = of('e9');
    if (first === undefined) throw new Error('no course');
    // E9 has E open: fret 3 is G; each turn is a fourth, five frets, farther
    const frets = [0, 1, 2, 3].map((turn) => fretOfTurn(setup, [first], turn));
    expect(frets).toEqual([3, 8, 1, 6]);
    expect(frets.map((fret) => chordAt(first, fret).symbol)).toEqual(['G', 'C', 'F', 'Bb']);
    const round = Array.from({ length: 11 }, (_, turn) => fretOfTurn(setup, [first], turn));
    expect(new Set(round).size).toBe(11);
  });

  it('is none where no chord lies under the bar alone', () => {
    const setup = builtIn('lap6-c6');
    const [neck] = setup.necks;
    if (neck === undefined) throw new Error('no neck');
    const [string] = neck.strings;
    const alike = string === undefined ? [] : [string, string, string];
    expect(courseOf({ ...setup, necks: [{ ...neck, strings: alike }] })).toEqual([]);
  });
});
