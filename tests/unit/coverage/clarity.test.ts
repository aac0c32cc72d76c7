/** How clear the use of a pull set is, counted by hand on an E9 neck. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { withControl } from '$lib/setup/proposal';
import type { Pull } from '$lib/setup/setup';
import { changeBetween } from '$lib/coverage/change';
import { clarityWith, scoreOfChange } from '$lib/coverage/clarity';
import { examplesWith } from '$lib/coverage/examples';
import { useGround } from '$lib/coverage/uses';
import { yardstick } from '$lib/coverage/yardstick';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';

const by = yardstick(EVERYDAY_REPERTOIRE);
const e9 = builtIn('e9');
const pulls = (...all: readonly (readonly [number, number])[]): Pull[] =>
  all.map(([string, semitones]) => ({ neck: 1, string, semitones }));

/** At the free station RKV. */
const ground = useGround(withControl(e9, { id: 'RKV', station: 'RKV', pulls: [] }), 'RKV', by);
const far = useGround(ground.setup, 'RKV', by, 'anything');
const clarity = (...all: readonly (readonly [number, number])[]): number =>
  clarityWith(ground, pulls(...all));

describe('the clarity of a pull set', () => {
  it.each(['A', 'B', 'LKL', 'LKR'])('is whole for %s of E9: a chord on each of its grips', (id) => {
    const control = e9.controls.find((each) => each.id === id);
    expect(clarityWith(useGround(e9, id, by), control?.pulls ?? [])).toBe(1);
  });

  it('counts the grips of a string on which a chord comes of it, less where others must help', () => {
    // string 7 up to G. Alone 7-8-10 is G E B, E minor; 5-6-7 B G♯ G and 6-7-8 G♯ G E are none: a third.
    // With A+B 5-6-7 is C♯ A G, an A7, and 7-8-10 G E C♯, C sharp diminished; 6-7-8 A G E is none: 0.6 of
    // two thirds. No other hold of one limb gives more than two of three.
    expect(clarity([7, 1])).toBeCloseTo(0.25 + 0.75 * 0.4, 10);
  });

  it('is the least where octaves part and never meet in a chord', () => {
    // 5 up to C and 10 down to A♯: 5-6-8-10 is C G♯ E A♯, no chord of the repertoire
    expect(clarity([5, 1], [10, -1])).toBe(0.25);
    // the same way in both octaves each grip has its E augmented
    expect(clarity([5, 1], [10, 1])).toBe(1);
  });

  it('puts a set that parts the octaves below one of hardly the same gain with a use', () => {
    const score = (...all: readonly (readonly [number, number])[]) => {
      const after = withControl(e9, { id: 'RKV', station: 'RKV', pulls: pulls(...all) });
      const change = changeBetween(e9, after, by);
      return { gain: change.gain, score: scoreOfChange(change) };
    };
    const parting = score([5, 1], [7, 1], [10, -1]);
    const plain = score([5, -1], [6, -1]);
    expect(parting.gain).toBeGreaterThan(plain.gain);
    expect(parting.score).toBeLessThan(plain.score);
  });
});

describe('what one would play first with a pull set', () => {
  it('is three where little sounds a chord: the same on other grips, or with more engaged', () => {
    for (const set of [pulls([4, -1], [5, -1]), pulls([7, 1]), pulls([10, -1])])
      expect(examplesWith(ground, set, () => far)).toHaveLength(3);
  });

  it('is three moves of different chords that show every string moved', () => {
    const examples = examplesWith(ground, pulls([5, -1], [6, -1]));
    expect(examples).toHaveLength(3);
    expect(new Set(examples.map(({ to }) => to.symbol)).size).toBe(3);
    const moved = examples.flatMap(({ strings, fromPitches, toPitches }) =>
      strings.filter((_, index) => fromPitches[index] !== toPitches[index]),
    );
    expect([...new Set(moved)].sort()).toEqual([5, 6]);
    // strings 6, 8, 10 ring as G♯ E B and become G E B
    const minor = examples.find(({ to }) => to.symbol === 'Em');
    expect(minor).toMatchObject({ strings: [6, 8, 10], toPitches: [55, 52, 47] });
    expect(minor?.from?.symbol).toBe('E');
  });
});
