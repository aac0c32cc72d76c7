/** Laws of the least squares, on wishes made at random, with the sum of squares written out plainly. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { justify, sweeten, type Wish } from '$lib/tuning/temper';

const STOPS = 6;

const sum = fc
  .tuple(
    fc.integer({ min: 0, max: STOPS - 1 }),
    fc.integer({ min: 0, max: STOPS - 1 }),
    fc.boolean(),
    fc.double({ min: -8, max: 0, noNaN: true }),
  )
  .map(([one, other, split, constant]) => ({
    terms:
      split && one !== other
        ? ([
            [one, 1],
            [other, 1],
          ] as const)
        : ([[one, 1]] as const),
    constant,
  }));

const wish = fc
  .array(fc.tuple(sum, fc.double({ min: -30, max: 30, noNaN: true })), {
    minLength: 2,
    maxLength: 4,
  })
  .chain((tones) =>
    fc.double({ min: 0.01, max: 4, noNaN: true }).map((weight): Wish => ({
      sums: tones.map(([each]) => each),
      just: tones.map(([, just]) => just),
      root: 0,
      weight,
    })),
  );
const wishes = fc.array(wish, { minLength: 1, maxLength: 8 });

/** Weighted squares of what each tone lies off its chord's best place. */
function total(all: readonly Wish[], offsets: ArrayLike<number>): number {
  let sum = 0;
  for (const { sums, just, weight } of all) {
    const away = sums.map(({ terms, constant }, tone) => {
      let own = constant;
      for (const [stop, factor] of terms) own += factor * (offsets[stop] ?? 0);
      return own - (just[tone] ?? 0);
    });
    const middle = away.reduce((a, b) => a + b, 0) / away.length;
    for (const each of away) sum += weight * (each - middle) ** 2;
  }
  return sum;
}

describe('sweetening', () => {
  it('finds the least: no step away from it is better', () => {
    fc.assert(
      fc.property(
        wishes,
        fc.array(fc.double({ min: -5, max: 5, noNaN: true }), {
          minLength: STOPS,
          maxLength: STOPS,
        }),
        (all, step) => {
          const offsets = sweeten(STOPS, all, { anchor: 0 });
          const away = offsets.map((each, stop) => each + (stop === 0 ? 0 : (step[stop] ?? 0)));
          expect(total(all, away)).toBeGreaterThanOrEqual(total(all, offsets) - 1e-6);
          expect(offsets[0]).toBe(0);
        },
      ),
    );
  });

  it('with one more chord never has less residual in all', () => {
    fc.assert(
      fc.property(wishes, wish, (all, another) => {
        const before = total(all, sweeten(STOPS, all, { anchor: 0 }));
        const more = [...all, another];
        expect(total(more, sweeten(STOPS, more, { anchor: 0 }))).toBeGreaterThanOrEqual(
          before - 1e-6,
        );
      }),
    );
  });

  it('drawn towards equal temperament lies no farther from it, and fits no better', () => {
    fc.assert(
      fc.property(wishes, fc.double({ min: 0.01, max: 100, noNaN: true }), (all, strength) => {
        const free = sweeten(STOPS, all, { anchor: 0 });
        const drawn = sweeten(STOPS, all, { anchor: 0, strength });
        const far = (offsets: Float64Array) => offsets.reduce((s, each) => s + each ** 2, 0);
        expect(far(drawn)).toBeLessThanOrEqual(far(free) + 1e-6);
        expect(total(all, drawn)).toBeGreaterThanOrEqual(total(all, free) - 1e-6);
      }),
    );
  });

  it('is nought everywhere when drawn without end', () => {
    fc.assert(
      fc.property(wishes, (all) => {
        expect([...sweeten(STOPS, all, { anchor: 0, strength: Infinity })]).toEqual(
          new Array(STOPS).fill(0),
        );
      }),
    );
  });
});

describe('tuning just', () => {
  it('makes the first wish pure, where its tones are set apart', () => {
    const apart = wish.filter(
      ({ sums }) =>
        sums.every(({ terms }) => terms.length === 1) &&
        new Set(sums.map(({ terms }) => terms[0]?.[0])).size === sums.length,
    );
    fc.assert(
      fc.property(apart, wishes, (first, rest) => {
        const { offsets, impure } = justify(STOPS, [first, ...rest], 0);
        expect(impure).not.toContain(0);
        expect(total([first], offsets)).toBeLessThan(1e-9);
      }),
    );
  });

  it('says of every other wish whether it is pure', () => {
    fc.assert(
      fc.property(wishes, (all) => {
        const { offsets, impure } = justify(STOPS, all, 0);
        all.forEach((each, place) => {
          if (!impure.includes(place)) expect(total([each], offsets)).toBeLessThan(1e-6);
        });
      }),
    );
  });
});
