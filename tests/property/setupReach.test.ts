import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { combinationCount, combinations, unreachable } from '$lib/setup/reach';
import { sounding } from '$lib/setup/sounding';
import type { Engaged, Setup } from '$lib/setup/setup';
import { runs } from '../battery';
import { smallSetup } from './generators';
import { everySet, plainOpen, plainReachable } from './plainSearch';

const text = (set: readonly Engaged[]): string =>
  set
    .map(({ id, state }) => `${id}:${state}`)
    .sort()
    .join(' ');

/** Walks every set of controls in every state and asks each whether it can be held. */
function agree(setup: Setup): void {
  const all = everySet(setup.controls);
  const walked = [...combinations(setup)].map(text).sort();
  expect(walked).toEqual(
    all
      .filter((set) => unreachable(setup, set) === undefined)
      .map(text)
      .sort(),
  );
  expect(walked).toEqual(
    all
      .filter((set) => plainReachable(setup, set))
      .map(text)
      .sort(),
  );
  expect(combinationCount(setup)).toBe(walked.length);
}

describe('the combinations that are walked are those that can be held, each once', () => {
  it('on random setups', () => {
    fc.assert(fc.property(smallSetup, agree), { numRuns: runs(300) });
  });

  it.each(BUILT_IN_IDS)('on %s', (id) => {
    agree(builtIn(id));
  });

  it('a legs’ reach that grows never loses a combination', () => {
    fc.assert(
      fc.property(smallSetup, (setup) => {
        const wider: Setup = {
          ...setup,
          reach: {
            ...setup.reach,
            pedalsAtOnce: setup.reach.pedalsAtOnce + 1,
            kneeUpWithSideways: true,
          },
        };
        const reached = new Set([...combinations(wider)].map(text));
        for (const set of combinations(setup)) expect(reached).toContain(text(set));
      }),
    );
  });
});

describe('exceptions from the reach', () => {
  const ids = (set: readonly Engaged[]): string[] => set.map(({ id }) => id);
  const plainLegs = (setup: Setup): Setup => {
    const { pedalsAtOnce, kneeUpWithSideways } = setup.reach;
    return { ...setup, reach: { pedalsAtOnce, kneeUpWithSideways } };
  };

  it('switch off just the combinations that hold a set of them, where nothing is allowed besides', () => {
    fc.assert(
      fc.property(smallSetup, (setup) => {
        const { also: _, ...reach } = setup.reach;
        const never = reach.never ?? [];
        const left = [...combinations(plainLegs(setup))].filter(
          (set) => !never.some((off) => off.every((id) => ids(set).includes(id))),
        );
        expect([...combinations({ ...setup, reach })].map(text).sort()).toEqual(
          left.map(text).sort(),
        );
      }),
    );
  });

  it('allow every set that they list, and lose nothing, where nothing is switched off', () => {
    fc.assert(
      fc.property(smallSetup, (setup) => {
        const { never: _, ...reach } = setup.reach;
        const reached = new Set([...combinations({ ...setup, reach })].map(text));
        for (const set of combinations(plainLegs(setup))) expect(reached).toContain(text(set));
        for (const set of reach.also ?? [])
          expect(reached).toContain(text(set.map((id) => ({ id, state: 'full' as const }))));
      }),
    );
  });
});

describe('every set of controls, reachable or not, sounds as the rule of raises and lowers says', () => {
  it('on every neck of random setups', () => {
    fc.assert(
      fc.property(smallSetup, fc.nat({ max: 24 }), (setup, fret) => {
        for (const set of everySet(setup.controls))
          setup.necks.forEach(({ strings }, index) => {
            const plain = strings.map((_, s) => plainOpen(setup, index + 1, s + 1, set) + fret);
            expect(sounding(setup, index + 1, set, fret)).toEqual(plain);
          });
      }),
    );
  });
});
