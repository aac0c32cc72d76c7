/** Ways that differ in their grips alone are one way; and where two ways differ is said in words. */
import { describe, expect, it } from 'vitest';
import type { ArrangedWay } from '$lib/arrange/arrange';
import { differenceWords, folded, shortWords } from '$lib/arrange/fold';
import type { Engaged } from '$lib/setup/setup';

const A: Engaged[] = [{ id: 'A', state: 'full' }];
type Held = Partial<ArrangedWay['steps'][number]['hold']>;

/** A way of one chord a measure. */
const way = (...holds: readonly Held[]): ArrangedWay =>
  ({
    steps: holds.map((hold, bar) => ({
      step: { bar },
      hold: { neck: 1, fret: 3, slant: 0, engaged: [], strings: [4, 5, 6], ...hold },
    })),
  }) as unknown as ArrangedWay;

describe('ways', () => {
  it('that only differ in grips are copies of the first of them', () => {
    const [first, grips] = [way({}, { engaged: A }), way({ strings: [3, 4, 5] }, { engaged: A })];
    const others = [
      way({}, {}),
      way({}, { engaged: [{ id: 'A', state: 'half' }] }),
      way({ neck: 2 }, { engaged: A }),
      way({ slant: 1 }, { engaged: A }),
      way({ fret: 4 }, { engaged: A }),
    ];
    expect(folded([first, grips, ...others, first])).toEqual([
      { index: 0, copies: [1, 7] },
      ...others.map((_, at) => ({ index: at + 2, copies: [] })),
    ]);
  });
});

describe('where two ways differ', () => {
  const plain = way({}, {}, {}, {}, {}, {});
  const other = (many: number, hold: Held): ArrangedWay =>
    way(...Array.from({ length: 6 }, (_, at) => (at < many ? hold : {})));

  it.each([
    ['fret', { fret: 4 }],
    ['neck', { neck: 2 }],
    ['slant', { slant: 1 }],
    ['controls', { engaged: A }],
  ] as const)('another %s is another position, whatever the grip', (_, hold) => {
    expect(differenceWords(plain, other(1, { ...hold, strings: [1, 2] }))).toBe(
      'other position in measure 1',
    );
  });

  it('is told by measures, or how many they are', () => {
    const words = (many: number): string =>
      differenceWords(plain, other(many, { strings: [1, 2] }));
    expect([0, 1, 2, 3, 4, 5].map(words)).toEqual([
      'the same',
      'other grip in measure 1',
      'other grip in measures 1 and 2',
      'other grip in measures 1, 2 and 3',
      'other grip in measures 1, 2, 3 and 4',
      'other grip in 5 measures',
    ]);
    expect(differenceWords(way({}, {}), way({ strings: [1, 2] }, { fret: 5 }))).toBe(
      'other position in measure 2; other grip in measure 1',
    );
    // only what both have can differ
    expect(differenceWords(way({}), way({}, { fret: 5 }))).toBe('the same');
  });
});

it('a search that was cut short says by how much', () => {
  expect(shortWords({})).toBe('');
  expect(shortWords({ short: 1.234 })).toMatch(/ 1\.23 less effort/);
});
