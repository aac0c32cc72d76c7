/** Where the keys lead on the atlas, and which rows are drawn. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ROW_PX, positionAfter, rowsInView } from '$lib/ui/atlas/atlasView';

const at = { row: 5, fret: 3 };

describe('keys', () => {
  it.each([
    ['ArrowUp', false, { row: 4, fret: 3 }],
    ['ArrowDown', false, { row: 6, fret: 3 }],
    ['ArrowLeft', false, { row: 5, fret: 2 }],
    ['ArrowRight', false, { row: 5, fret: 4 }],
    ['Home', false, { row: 5, fret: 0 }],
    ['End', false, { row: 5, fret: 24 }],
    ['Home', true, { row: 0, fret: 0 }],
    ['End', true, { row: 95, fret: 24 }],
    ['PageDown', false, { row: 15, fret: 3 }],
    // at the edge it stays
    ['PageUp', false, { row: 0, fret: 3 }],
    ['a', false, undefined],
  ] as const)('%s (control: %s)', (key, control, wanted) => {
    expect(positionAfter(key, control, at, 96, 24, 10)).toEqual(wanted);
  });
});

it('every row of which something is to be seen is drawn, and not many more', () => {
  const px = fc.integer({ min: 0, max: 40_000 });
  fc.assert(
    fc.property(
      px,
      fc.integer({ min: 100, max: 1200 }),
      fc.integer({ min: 1, max: 900 }),
      (scroll, height, count) => {
        const [first, last] = rowsInView(scroll, height, count);
        for (let row = 0; row < count; row++) {
          const isSeen = (row + 1) * ROW_PX > scroll && row * ROW_PX < scroll + height;
          if (isSeen) expect(row >= first && row <= last).toBe(true);
        }
        expect(last - first).toBeLessThan(height / ROW_PX + 24);
        expect(last).toBeLessThan(count);
      },
    ),
  );
});
