/** The gain, derived by hand on an instrument of three strings. */
import { describe, expect, it } from 'vitest';
import { proposed } from '$lib/setup/proposal';
import { readSetup } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';
import { changeBetween } from '$lib/coverage/change';
import { easeOf } from '$lib/coverage/ease';
import { suggesting } from '$lib/coverage/suggestion';
import { yardstick, type Wish } from '$lib/coverage/yardstick';

function made(document: object): Setup {
  const read = readSetup({ format: 1, name: 'three strings', frets: 12, ...document });
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return read.value;
}
const three = made({
  necks: [{ name: 'C', strings: [{ open: 'E4' }, { open: 'C4' }, { open: 'G3' }] }],
  controls: [],
});
const gain = (change: Parameters<typeof proposed>[1], wishes: readonly Wish[]): number => {
  const after = proposed(three, change);
  if (!after.ok) throw new Error(JSON.stringify(after.error));
  // a straight bar alone, so that there is one grip with one shape a combination
  const options = { sizes: [3, 4], slants: false } as const;
  return changeBetween(three, after.value, yardstick(wishes), options).gain;
};
const MAJOR = [{ type: '', weight: 1 }];

describe('ease', () => {
  it('is 1 with nothing to do, one half for the work of a pedal, half as much with tones left out', () => {
    expect(easeOf(0, false)).toBe(1000);
    expect(easeOf(1000, false)).toBe(500);
    expect(easeOf(0, true)).toBe(500);
  });
});

describe('the gain', () => {
  it('of F major under C major: one root, one of three tones on top, an effort of 1', () => {
    // E to F and G to A by a left-knee lever, which costs 1 by the weights: ease one half
    expect(gain({ with: ['LKL:1+1,3+2'] }, MAJOR)).toBeCloseTo((100 * 0.5) / 3, 4);
  });

  it('weighs a chord by its use', () => {
    const wishes = [...MAJOR, { type: 'm', weight: 1 }];
    expect(gain({ with: ['LKL:1+1,3+2'] }, wishes)).toBeCloseTo((100 * 0.5) / 3 / 2, 4);
    // E to E flat makes C minor of it, with E flat on top
    expect(gain({ with: ['LKL:1-1'] }, wishes)).toBeCloseTo((100 * 0.5) / 3 / 2, 4);
    expect(gain({ with: ['LKL:1-1'] }, MAJOR)).toBe(0);
  });

  it('does not count the same chord on the same root with the same tone on top again', () => {
    // a semitone up is the bar's own work, but with the bar still it is a new root
    expect(gain({ with: ['LKL:1+1,2+1,3+1'] }, MAJOR)).toBeCloseTo((100 * 0.5) / 3, 4);
    // two levers for the same chord give it once
    const once = gain({ with: ['LKL:1+1,3+2'] }, MAJOR);
    expect(gain({ with: ['LKL:1+1,3+2', 'LKR:1+1,3+2'] }, MAJOR)).toBe(once);
  });

  it('counts what a change takes away', () => {
    // the third tuned up to F: C major is gone, with E on top and nothing to press
    expect(gain({ open: ['1:F4'] }, MAJOR)).toBeCloseTo(-100 / 3, 4);
  });

  it('counts one root alone where one is wished for', () => {
    expect(gain({ with: ['LKL:1+1,3+2'] }, [{ type: '', root: 5, weight: 1 }])).toBeGreaterThan(0);
    expect(gain({ with: ['LKL:1+1,3+2'] }, [{ type: '', root: 7, weight: 1 }])).toBe(0);
  });
});

describe('suggestions', () => {
  it('find the pulls that make F of C, and count the candidates', () => {
    const question = {
      control: { id: 'LKL', station: 'LKL' },
      wishes: [{ type: '', root: 5, weight: 1 }],
      keep: [],
      sizes: [3, 4],
      slants: false,
      limit: 0,
      stringsUpTo: 3,
    } as const;
    const { candidates, within } = suggesting(three, question);
    // 3 strings, −3 … 3 without 0: 3 · 6 + 3 · 36 + 216
    expect(candidates.count).toBe(342);
    const { best } = within([0, 341]);
    // C to C: F lies on A, C, F or on F, A, C in some order of octaves within three semitones
    const first = best.find(({ pulls }) => pulls.length === 2);
    expect(first?.pulls).toEqual([
      { neck: 1, string: 1, semitones: 1 },
      { neck: 1, string: 3, semitones: 2 },
    ]);
    expect(first?.opens).toEqual([{ type: '', root: 5 }]);
  });
});
