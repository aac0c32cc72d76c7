/** What must hold of every move, whatever the weights are. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { voiceLeading } from '$lib/theory/voiceLeading';
import { combinations } from '$lib/setup/reach';
import { sounding } from '$lib/setup/sounding';
import type { Setup } from '$lib/setup/setup';
import { barMm, barMoveTerms, moveBetween, type SoundingHold } from '$lib/effort/move';
import { runs } from '../battery';
import { smallSetup } from './generators';

const sonority = fc
  .array(fc.integer({ min: 20, max: 100 }), { minLength: 1, maxLength: 5 })
  .map((pitches) => [...pitches].sort((a, b) => a - b));

/** Every way to send each voice of the larger to one of the smaller, leaving none out, and the least sum. */
function plainVoiceLeading(a: readonly number[], b: readonly number[]): number {
  const [few, many] = a.length <= b.length ? [a, b] : [b, a];
  let best = Infinity;
  const send = (place: number, used: number, sum: number): void => {
    if (place === many.length) {
      if (used === 2 ** few.length - 1) best = Math.min(best, sum);
      return;
    }
    few.forEach((goal, j) => {
      send(place + 1, used | (1 << j), sum + Math.abs(goal - (many[place] ?? 0)));
    });
  };
  send(0, 0, 0);
  return best;
}

describe('voice leading', () => {
  it('is the least sum over all ways to lead the voices', () => {
    fc.assert(
      fc.property(sonority, sonority, (a, b) => {
        expect(voiceLeading(a, b)).toBe(plainVoiceLeading(a, b));
      }),
      { numRuns: runs(300) },
    );
  });
  it('is the same both ways, and nothing only where every pitch has its like', () => {
    fc.assert(
      fc.property(sonority, sonority, (a, b) => {
        expect(voiceLeading(a, b)).toBe(voiceLeading(b, a));
        expect(voiceLeading(a, a)).toBe(0);
        const same = [...new Set(a)].join() === [...new Set(b)].join();
        // {C, C, E} and {C, E, E} have the same pitches, yet one voice must move
        if (!same) expect(voiceLeading(a, b)).toBeGreaterThan(0);
      }),
    );
  });
});

/** A setup and some holds on it. */
const holds = (count: number) =>
  smallSetup.chain((setup) => {
    const all = [...combinations(setup)];
    const hold = fc
      .record({
        neck: fc.integer({ min: 1, max: setup.necks.length }),
        fret: fc.integer({ min: 0, max: setup.frets }),
        engaged: fc.constantFrom(...all),
        picks: fc.array(fc.boolean(), { minLength: 5, maxLength: 5 }),
      })
      .map(({ neck, fret, engaged, picks }): SoundingHold => {
        const opens = sounding(setup, neck, engaged, fret);
        const chosen = opens.flatMap((_, s) => (picks[s] ? [s + 1] : []));
        const strings = chosen.length === 0 ? [1] : chosen;
        const pitches = strings.map((string) => opens[string - 1] ?? 0);
        return { neck, fret, slant: 0, strings, pitches, engaged };
      });
    return fc.tuple(
      fc.constant(setup),
      fc.array(hold, { minLength: count, maxLength: count }),
    ) as fc.Arbitrary<[Setup, [SoundingHold, SoundingHold, SoundingHold]]>;
  });

describe('a move', () => {
  it('costs nothing where nothing moves, and something where anything does', () => {
    fc.assert(
      fc.property(holds(2), ([setup, [a, b]]) => {
        expect(moveBetween(setup, a, a).total).toBe(0);
        const { total } = moveBetween(setup, a, b);
        const differs = JSON.stringify(a) !== JSON.stringify(b);
        if (differs) expect(total).toBeGreaterThan(0);
      }),
    );
  });
  it('is as dear back as forth, in every part', () => {
    fc.assert(
      fc.property(holds(2), ([setup, [a, b]]) => {
        const { total, bar, picking, feet, voices, barMm: mm } = moveBetween(setup, a, b);
        expect(moveBetween(setup, b, a)).toMatchObject({
          total,
          bar,
          picking,
          feet,
          voices,
          barMm: mm,
        });
      }),
    );
  });
  it('of the bar is never longer than by way of somewhere else', () => {
    fc.assert(
      fc.property(holds(3), ([setup, [a, b, c]]) => {
        const detour = barMm(setup, a, b) + barMm(setup, b, c);
        expect(barMm(setup, a, c)).toBeLessThanOrEqual(detour + 1e-9);
        const price = (from: SoundingHold, to: SoundingHold): number =>
          barMoveTerms(setup, from, to).reduce((sum, { value }) => sum + value, 0);
        expect(price(a, c)).toBeLessThanOrEqual(price(a, b) + price(b, c) + 1e-9);
      }),
    );
  });
  it('with one more control to change is never cheaper in the feet', () => {
    fc.assert(
      fc.property(holds(2), ([setup, [a, b]]) => {
        const { feet } = moveBetween(setup, a, b);
        const kept = a.engaged.filter(({ id }) => !b.engaged.some((each) => each.id === id));
        const [stays] = kept;
        if (stays === undefined) return;
        // what a lets go of, b now keeps: one change less (its foot may stand elsewhere, so levers only)
        const control = setup.controls.find(({ id }) => id === stays.id);
        if (control?.station.startsWith('P')) return;
        const keeping = { ...b, engaged: [...b.engaged, stays] };
        expect(moveBetween(setup, a, keeping).feet).toBeLessThan(feet);
      }),
    );
  });
});
