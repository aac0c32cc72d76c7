/** Cards and their answers, held against trying everything out. */
import { describe, expect, it } from 'vitest';
import { cardsOf, type Card } from '$lib/practice/cards';
import { courseOf } from '$lib/practice/course';
import { judge } from '$lib/practice/judge';
import { taskOf, type Task } from '$lib/practice/task';
import { combinations } from '$lib/setup/reach';
import { builtIn } from '$lib/setup/builtIns';
import type { Engaged, Setup } from '$lib/setup/setup';
import type { Hold } from '$lib/search/hold';

const E9 = builtIn('e9');
const course = courseOf(E9);
const cards = course.slice(0, 20).flatMap((position): readonly Card[] => cardsOf(course, position));
const of = <K extends Task['kind']>(kind: K, turn = 0): Extract<Task, { kind: K }>[] =>
  cards
    .filter((card) => card.kind === kind)
    .map((card) => taskOf(E9, card, turn) as Extract<Task, { kind: K }>);

/** What strings sound, by plain addition of pulls: a raise and a lower on one string add up, of two raises the larger counts. */
function plainPitches(
  setup: Setup,
  { neck, fret, engaged, strings }: Omit<Hold, 'slant'>,
): number[] {
  return strings.map((string) => {
    const moves = engaged.flatMap(({ id, state }) =>
      (setup.controls.find((each) => each.id === id)?.pulls ?? [])
        .filter((pull) => pull.neck === neck && pull.string === string)
        .map((pull) => (state === 'half' ? (pull.half ?? pull.semitones) : pull.semitones)),
    );
    const open = setup.necks[neck - 1]?.strings[string - 1]?.open.midi ?? NaN;
    return open + fret + Math.max(0, ...moves) + Math.min(0, ...moves);
  });
}

const chromas = (pitches: readonly number[]): string =>
  [...new Set(pitches.map((pitch) => pitch % 12))].sort((a, b) => a - b).join();

function* gripsOf(strings: number, size: number, from = 1): Generator<number[]> {
  if (size === 0) yield [];
  else
    for (let first = from; first <= strings; first++)
      for (const rest of gripsOf(strings, size - 1, first + 1)) yield [first, ...rest];
}

describe('a chord that is to be found', () => {
  it('is right wherever it sounds with its top note in the region, and nowhere else', () => {
    // A minor has A, C and E; a root and a third say it too, the fifth may be left out
    const task = of('find').find(({ chord }) => chord.type === 'm');
    if (task === undefined) throw new Error('no minor chord');
    const root = task.chord.tones[0]?.chroma ?? 0;
    const allowed = new Set(
      [
        [0, 3, 7],
        [0, 3],
      ].map((tones) => chromas(tones.map((tone) => root + tone))),
    );
    let right = 0;
    let wrong = 0;
    const all = [...combinations(E9)].filter(({ length }) => length <= 2);
    for (const engaged of all)
      for (let fret = task.frets[0] - 1; fret <= task.frets[1] + 1; fret++)
        for (const strings of gripsOf(10, 3)) {
          // a fifth of all grips, the same ones every time
          if (((strings[0] ?? 0) * 7 + (strings[1] ?? 0) * 3 + (strings[2] ?? 0) + fret) & 3)
            continue;
          const hold = { neck: 1, fret, slant: 0, engaged, strings };
          const pitches = plainPitches(E9, hold);
          const isRight =
            allowed.has(chromas(pitches)) &&
            Math.max(...pitches) % 12 === task.top &&
            fret >= task.frets[0] &&
            fret <= task.frets[1];
          const judged = judge(E9, task, hold);
          if (judged.right !== isRight)
            expect({ hold, right: judged.right }).toEqual({ hold, right: isRight });
          if (isRight) right++;
          else wrong++;
        }
    expect(right).toBeGreaterThan(3);
    expect(wrong).toBeGreaterThan(1000);
  });

  it('is right as the course has it, on every turn, and tells an easier way only where it is one', () => {
    for (const turn of [0, 1, 4])
      for (const task of [...of('find', turn), ...of('move', turn)]) {
        const judged = judge(E9, task, task.hold);
        expect(judged.right, `${task.kind} ${task.chord.symbol}`).toBe(true);
        const easiest = judge(E9, task, task.easiest.hold);
        expect(easiest).toMatchObject({ right: true });
        expect(easiest).not.toHaveProperty('easier');
        if (!judged.right || !easiest.right) continue;
        expect(easiest.effort).toBeLessThanOrEqual(judged.effort);
        expect('easier' in judged).toBe(easiest.effort < judged.effort);
      }
  });

  it('is wrong with the reason that comes first', () => {
    const [task] = of('find');
    if (task === undefined) throw new Error('no card');
    const { hold } = task;
    const told = (change: Partial<Hold>): unknown => {
      const judged = judge(E9, task, { ...hold, ...change });
      return judged.right ? 'right' : judged.wrong;
    };
    const both = ['LKL', 'LKR'].map((id): Engaged => ({ id, state: 'full' }));
    expect(told({})).toBe('right');
    expect(told({ strings: [] })).toBe('nothing');
    // the knee goes to the left or to the right
    expect(told({ engaged: both })).toBe('unreachable');
    expect(told({ fret: hold.fret + 1 })).toBe('chord');
    expect(told({ strings: [4, 5, 6] })).toBe('top');
    expect(told({ fret: hold.fret + 12 })).toBe('region');
  });
});

describe('a hold or a sound that is to be told', () => {
  it('has one right answer among four, in a place that changes', () => {
    const places = new Set<number>();
    for (const turn of [0, 1, 2, 3])
      for (const { hold, choices, right, chord } of of('name', turn)) {
        expect(choices).toHaveLength(4);
        expect(new Set(choices.map(({ symbol }) => symbol)).size).toBe(4);
        expect(choices[right]).toEqual(chord);
        const sounds = new Set(plainPitches(E9, hold).map((pitch) => pitch % 12));
        for (const [place, each] of choices.entries()) {
          // right is what has every sounding note among its tones and lacks none that it must have
          const tones = new Set(each.tones.map((tone) => tone.chroma));
          const lacks = each.tones.some((tone) => tone.must && !sounds.has(tone.chroma));
          const isIt = [...sounds].every((sound) => tones.has(sound)) && !lacks;
          expect(isIt, `${chord.symbol} or ${each.symbol}`).toBe(place === right);
        }
        places.add(right);
      }
    expect([...places].sort()).toEqual([0, 1, 2, 3]);
  });

  it('is heard as a pull that only one of the answers makes', () => {
    const pulls = [0, 3].flatMap((turn) => of('hear', turn)).filter(({ of }) => of === 'pull');
    expect(pulls.length).toBeGreaterThan(5);
    for (const task of pulls) {
      if (task.of !== 'pull') continue;
      const [before, after] = task.plays;
      if (before === undefined || after === undefined) throw new Error('nothing to hear');
      const target = plainPitches(E9, after).join();
      expect(target).not.toBe(plainPitches(E9, before).join());
      const made = task.choices.map((choice) =>
        plainPitches(E9, { ...before, engaged: [...before.engaged, choice] }).join(),
      );
      expect(made.map((each) => each === target)).toEqual(
        task.choices.map((_, place) => place === task.right),
      );
    }
  });

  it('is heard as an interval by its name', () => {
    // names of intervals by their semitones; any textbook
    const NAMES = ['unison', 'minor second', 'major second', 'minor third', 'major third'];
    NAMES.push('perfect fourth', 'tritone', 'perfect fifth', 'minor sixth', 'major sixth');
    for (const task of of('hear', 2)) {
      expect(task.of).toBe('interval');
      if (task.of !== 'interval') continue;
      const [play] = task.plays;
      if (play === undefined) throw new Error('nothing to hear');
      const [a = 0, b = 0] = plainPitches(E9, play);
      const name = NAMES[Math.abs(a - b)];
      if (name !== undefined) expect(task.choices[task.right]).toBe(name);
      expect(new Set(task.choices).size).toBe(4);
    }
  });
});
