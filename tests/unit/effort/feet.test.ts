/** What holding and engaging controls asks of feet, knees and the picking hand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { combinations, unreachable } from '$lib/setup/reach';
import type { Engaged, Setup, Station } from '$lib/setup/setup';
import { engagingTerms } from '$lib/effort/engaging';
import { feetEffort, feetTerms, middlePedal } from '$lib/effort/feet';
import { runs } from '../../battery';
import { smallSetup } from '../../property/generators';

const full = (...ids: string[]): Engaged[] => ids.map((id) => ({ id, state: 'full' }));

describe('letting a control go', () => {
  const check = (setup: Setup): void => {
    for (const engaged of combinations(setup)) {
      const held = feetEffort(setup, engaged);
      for (const gone of engaged) {
        const rest = engaged.filter((each) => each !== gone);
        if (unreachable(setup, rest) !== undefined) continue;
        const label = engaged.map(({ id, state }) => `${id} ${state}`).join(', ');
        expect(feetEffort(setup, rest), `${label}, without ${gone.id}`).toBeLessThan(held);
      }
    }
  };

  // the four without controls have nothing to let go
  it.each(['e9', 'c6', 'double', 'universal12'] as const)('never costs more, on %s', (id) => {
    check(builtIn(id));
  });

  it('never costs more where legs are long', () => {
    for (const id of ['e9', 'universal12', 'double'] as const)
      check({ ...builtIn(id), reach: { pedalsAtOnce: 4, kneeUpWithSideways: true } });
  });

  it('never costs more on random setups', () => {
    fc.assert(fc.property(smallSetup, check), { numRuns: runs(60, 2000) });
  });
});

describe('feet and knees (each comparison a sentence of model, section 7)', () => {
  const e9 = builtIn('e9');
  const cost = (engaged: readonly Engaged[], setup = e9): number => feetEffort(setup, engaged);

  it('the unit is one easy pedal', () => {
    for (const id of ['A', 'B', 'C']) expect(cost(full(id))).toBe(1);
  });

  it('a second pedal costs more, though less than another limb, and a third more than the second', () => {
    // one foot lies on two neighbours in one movement; for the third it has to tilt
    const three = { ...e9, reach: { ...e9.reach, pedalsAtOnce: 3 } };
    const second = cost(full('A', 'B')) - cost(full('A'));
    const third = cost(full('A', 'B', 'C'), three) - cost(full('A', 'B'));
    expect(second).toBeGreaterThan(0);
    expect(second).toBeLessThan(cost(full('A')));
    expect(third).toBeGreaterThan(second);
  });

  it('no pair of controls of E9 is easier than A+B (common practice of the trade)', () => {
    const pairs = [...combinations(e9)].filter((engaged) => engaged.length === 2);
    expect(pairs.length).toBeGreaterThan(20);
    for (const pair of pairs) expect(cost(pair)).toBeGreaterThanOrEqual(cost(full('A', 'B')));
    expect(cost(full('A', 'LKL'))).toBeGreaterThan(cost(full('A', 'B')));
  });

  it('a vertical lever is dearer than a sideways one', () => {
    expect(cost(full('LKV'))).toBeGreaterThan(cost(full('LKL')));
  });

  it('a half-stop is dearer than the full stop', () => {
    expect(cost([{ id: 'RKR', state: 'half' }])).toBeGreaterThan(cost(full('RKR')));
  });

  it('a left knee that moves against its foot is dearer than one that goes with it', () => {
    // pedal A is at the left end: there the knee goes left easily, and right against the foot
    expect(cost(full('A', 'LKR'))).toBeGreaterThan(cost(full('A', 'LKL')));
    expect(cost(full('C', 'LKL'))).toBeGreaterThan(cost(full('C', 'LKR')));
    expect(cost(full('A', 'LKL'))).toBe(cost(full('A')) + cost(full('LKL')));
  });

  it('a right knee does not mind where the left foot is', () => {
    for (const id of ['A', 'B', 'C'])
      expect(cost(full(id, 'RKL'))).toBeCloseTo(cost(full(id)) + cost(full('RKL')), 9);
  });

  it('up and sideways with one knee is dearer than the two apart', () => {
    const long = { ...e9, reach: { ...e9.reach, kneeUpWithSideways: true } };
    expect(cost(full('LKV', 'LKL'), long)).toBeGreaterThan(cost(full('LKV')) + cost(full('LKL')));
    expect(cost(full('LKV', 'RKL'), long)).toBeCloseTo(cost(full('LKV')) + cost(full('RKL')), 9);
  });

  it('names the control in its terms', () => {
    const names = feetTerms(e9, [...full('A', 'B'), { id: 'RKR', state: 'half' }]).map(
      (t) => t.name,
    );
    for (const id of ['A', 'B', 'RKR']) expect(names.join(', ')).toContain(id);
    expect(names.join(', ')).toMatch(/half-stop of RKR/);
  });
});

describe('what each limb does has its place in the table of weights', () => {
  const e9 = builtIn('e9');
  const pedals = Array.from({ length: 12 }, (_, at) => `P${String(at + 1)}` as Station);
  const on = (...stations: Station[]): Setup => ({
    ...e9,
    controls: stations.map((station) => ({ id: station, station, pulls: [] })),
  });
  const LEVERS = ['LKL', 'LKV', 'LKR', 'LKL2', 'RKV', 'RKR', 'WRIST'] as const;
  const told = (setup: Setup, ...ids: string[]): string[] =>
    feetTerms(setup, full(...ids)).map(({ name, value }) => `${name} ${value.toFixed(3)}`);

  it.each([
    [
      'P1 P2 P3 P4',
      'pedal P1 1.000, second pedal P2 0.600, third pedal P3 1.600, fourth pedal P4 2.000',
    ],
    ['LKV', 'lifted knee LKV 1.400'],
    ['LKL2', 'lever LKL2 1.000, LKL2 in the second bank 0.300'],
    ['RKR', 'lever RKR 1.000, RKR beside the volume pedal 0.250'],
    ['WRIST', 'lever WRIST of the picking hand 0.800'],
    ['LKV LKL', 'lifted knee LKV 1.400, lever LKL 1.000, one knee up and sideways 0.800'],
    ['LKL RKV', 'lever LKL 1.000, lifted knee RKV 1.400, RKV beside the volume pedal 0.250'],
    // a foot at the end of four pedals stands 1.5 from their middle; a lifted knee does not mind
    ['P4 LKL', 'pedal P4 1.000, lever LKL 1.000, left knee against its foot 0.375'],
    ['P1 LKV', 'pedal P1 1.000, lifted knee LKV 1.400'],
    ['nothing that is there', ''],
  ])('%s', (ids, wanted) => {
    const setup = on(...pedals.slice(0, 4), ...LEVERS);
    expect(told(setup, ...ids.split(' ')).join(', ')).toBe(wanted);
  });

  it('a fifth pedal, where a player says that he can, costs what a fourth does', () => {
    expect(told(on(...pedals), 'P1', 'P2', 'P3', 'P4', 'P5').slice(-2)).toEqual([
      'fourth pedal P4 2.000',
      'fourth pedal P5 2.000',
    ]);
  });

  it('all of it is work of the feet', () => {
    expect(feetTerms(e9, full('A', 'LKR')).map(({ part }) => part)).toEqual([
      'feet',
      'feet',
      'feet',
    ]);
  });

  it('a knee goes against its foot no more than a leg twists', () => {
    // 5.5 pedals from the middle would be 1.375
    expect(told(on(...pedals, 'LKL'), 'P12', 'LKL')).toContain('left knee against its foot 1.000');
  });

  it('and the foot stands before the middle of the pedals that are there, of several setups of all', () => {
    const without = { ...e9, controls: e9.controls.filter(({ id }) => id !== 'A') };
    expect(middlePedal(e9)).toBe(2);
    expect(middlePedal(without)).toBe(2.5);
    expect(middlePedal(without, e9)).toBe(2);
    expect(middlePedal(on('LKL'))).toBe(0);
  });
});

describe('engaging controls while others stay', () => {
  const e9 = builtIn('e9');
  const told = (from: Engaged[], to: Engaged[], middle?: number): string[] =>
    engagingTerms(e9, from, to, middle).map(({ name, value }) => `${name}: ${value.toFixed(3)}`);
  const half = (id: string): Engaged => ({ id, state: 'half' });

  it('asks all that holding asks where nothing was engaged, or nothing of it stays', () => {
    const [down, up] = [full('A', 'B', 'LKR'), full('LKL')];
    expect(engagingTerms(e9, [], down)).toEqual(feetTerms(e9, down));
    expect(engagingTerms(e9, up, down)).toEqual(feetTerms(e9, down));
  });

  it('asks nothing of what stays or is let go', () => {
    expect(told(full('A', 'LKL'), full('A', 'LKL'))).toEqual([]);
    expect(told(full('A', 'B', 'LKL'), full('B'))).toEqual([]);
    expect(told([half('RKR')], full('RKR'))).toEqual([]);
    expect(told([half('RKR')], [half('RKR'), ...full('A')])).toEqual(['pedal A: 1.000']);
  });

  it('asks for what comes, and what it is beside what stays (the table of weights)', () => {
    // the foot that holds one pedal takes its neighbour along, whichever was there
    expect(told(full('A'), full('A', 'B'))).toEqual(['second pedal B: 0.600']);
    expect(told(full('B'), full('A', 'B'))).toEqual(['second pedal A: 0.600']);
    expect(told(full('RKR'), [half('RKR')])).toEqual(['half-stop of RKR: 0.500']);
    // pedal A is one to the left of the middle, and the knee goes right
    expect(told(full('LKR'), full('A', 'LKR'))).toEqual([
      'pedal A: 1.000',
      'left knee against its foot: 0.250',
    ]);
    // over a bar whose middle is left of A the foot stands 1, then 1.5 to the right of it
    expect(told(full('A', 'LKL'), full('A', 'B', 'LKL'), 0)).toEqual([
      'second pedal B: 0.600',
      'left knee against its foot: 0.125',
    ]);
  });
});
