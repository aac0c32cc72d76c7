/**
 * From pulls to rods: the law of the lever by hand, the search for holes against plain trying of all, forces by the
 * work that they do, and what cannot be done.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { candidatesOn } from '$lib/setup/candidates';
import type { Control, Setup } from '$lib/setup/setup';
import { capacities, capacityRanges, roomFor } from '$lib/strings/rig/capacity';
import { capacityText, overCapacity } from '$lib/strings/rig/overCapacity';
import { rigDifferences } from '$lib/strings/rig/differences';
import { forceOf } from '$lib/strings/rig/forces';
import { ROD_CLEARANCE_MM, layLane, type LaneRod, type RodPlace } from '$lib/strings/rig/lane';
import { degrees, radians, rodWayMm, startTurn, stretchAt, turnAt } from '$lib/strings/rig/lever';
import { rigOf, type LaidRod, type Rig } from '$lib/strings/rig/rig';
import { sensitivities } from '$lib/strings/rig/sensitivity';
import { springNeeds } from '$lib/strings/rig/springs';
import { leftOutText } from '$lib/strings/rig/text';
import { timingOf } from '$lib/strings/rig/timing';
import { rigging } from '$lib/strings/rigging';
import { parsePitch } from '$lib/theory/pitch';
import { runs } from '../../battery';

// 24¼ inches: B3 on .017 is drawn out by 0.572 mm for a whole tone (rigging.test.ts, worked out apart)
const E9: Setup = { ...builtIn('e9'), scaleLengthMm: 615.95 };
const rodsOf = (rig: Rig): LaidRod[] => rig.controls.flatMap(({ rods }) => rods);
const pitch = (text: string) => {
  const read = parsePitch(text);
  if (read === undefined) throw new Error(text);
  return read;
};
/** One string B3 .017, with these controls and what is told of the changer. */
const oneString = (
  controls: readonly Control[],
  changer: NonNullable<Setup['changer']> = {},
): Setup => ({
  name: 'one string',
  frets: 24,
  scaleLengthMm: 615.95,
  referenceHz: 440,
  reach: { pedalsAtOnce: 2, kneeUpWithSideways: false },
  necks: [{ name: 'n', strings: [{ open: pitch('B3'), gauge: 0.017 }] }],
  controls,
  changer,
});
const pedal = (station: 'P1' | 'P2' | 'P3', semitones: number, more: object = {}): Control => ({
  id: station,
  station,
  pulls: [{ neck: 1, string: 1, semitones, ...more }],
});

describe('one pull by the law of the lever', () => {
  // by hand: the finger turns by 0.572/10 = 0.0572 rad; its hole at 20 mm goes 20·sin 0.0572 = 1.1434 mm; a crank
  // hole at 12 mm ends at 8° at 12·0.139173 = 1.6701 mm, so it begins at 0.5267 mm: sin = 0.043891, 2.5155°
  const levers = { radiusMm: 10, holeMm: 20, crankMm: 12 };
  it('goes as far as it is worked out by hand', () => {
    expect(rodWayMm(levers, 0.572)).toBeCloseTo(1.1434, 4);
    const start = startTurn(levers, 0.572, radians(8));
    expect(degrees(start ?? NaN)).toBeCloseTo(2.5155, 3);
  });

  it('cannot be done by a crank that is too short: 8 mm · sin 8° is 1.1134 mm, less than 1.1434', () => {
    expect(startTurn({ ...levers, crankMm: 8 }, 0.572, radians(8))).toBeUndefined();
  });

  it('ends where finger or crank has turned by a right angle', () => {
    // 10 mm · π/2 is 15.708 mm of string
    expect(rodWayMm(levers, 15.7)).toBeCloseTo(20, 4);
    for (const stretch of [15.71, 20, 40]) {
      expect(rodWayMm(levers, stretch)).toBeUndefined();
      expect(startTurn(levers, stretch, radians(89))).toBeUndefined();
      expect(turnAt(levers, stretch, 0)).toBeUndefined();
    }
    // 20 mm · sin 0.5 is 9.5885 mm; the crank's hole goes across by 12 mm at most, by 12·sin 53.04° from rest
    expect(degrees(turnAt(levers, 5, 0) ?? NaN)).toBeCloseTo(53.04, 1);
    expect(turnAt(levers, 5, radians(20))).toBeUndefined();
  });

  it('draws nothing before it begins', () => {
    expect(stretchAt(levers, radians(4), radians(2))).toBe(0);
    expect(stretchAt(levers, radians(4), radians(4.5))).toBeGreaterThan(0);
  });

  it('is the same in a whole rig', () => {
    const setup = oneString([pedal('P1', 2)], { raiseHolesMm: [20], crankHolesMm: [12] });
    const [rod] = rodsOf(rigOf(setup));
    expect(rod?.wayMm).toBeCloseTo(1.143, 2);
    expect(rod?.startShare).toBeCloseTo(2.5155 / 8, 2);
  });
});

describe('a whole rig', () => {
  it.each(['e9', 'c6', 'universal12', 'double'] as const)(
    'ends every pull of %s at its note, together with the others, behind the slack',
    (id) => {
      const rig = rigOf(builtIn(id));
      expect(rig.leftOut).toEqual([]);
      for (const control of rig.controls)
        for (const rod of control.rods) {
          const end = stretchAt(rod.levers, rod.startShare * control.stop, control.stop);
          expect(end).toBeCloseTo(rod.stretchMm, 9);
          expect(rod.startShare).toBeGreaterThanOrEqual(control.slackShare - 1e-9);
        }
    },
  );

  it('hooks no two rods into one hole of a finger', () => {
    for (const id of ['e9', 'universal12', 'double'] as const) {
      const taken = rodsOf(rigOf(builtIn(id))).map(
        ({ neck, string, kind, hole }) => `${neck}/${string}/${kind}/${hole}`,
      );
      expect(new Set(taken).size).toBe(taken.length);
    }
  });

  it('lets a pull without a half-stop begin where the half-stop of the others is', () => {
    // RKR of E9: string 2 halts on the way, and string 9 is not to move before that
    const rkr = rigOf(E9).controls.find(({ control }) => control === 'RKR');
    const timing = rkr && timingOf(rkr);
    expect(timing?.early).toEqual([]);
    expect(timing?.half).toBeGreaterThan(timing?.firstStart ?? 1);
    expect(timing?.half).toBeLessThan(1);
  });

  it('is told by where its pulls begin and where its half-stops are felt', () => {
    const [control] = rigOf(oneString([pedal('P1', 2)])).controls;
    const [rod] = control?.rods ?? [];
    if (control === undefined || rod === undefined) throw new Error('no rod');
    const timed = (...rods: readonly (readonly [start: number, half?: number])[]) =>
      timingOf({
        ...control,
        rods: rods.map(([startShare, halfShare], at) => ({
          ...rod,
          ...{ string: at + 1, startShare },
          ...(halfShare === undefined ? {} : { halfShare }),
        })),
      });
    expect(timed()).toBeUndefined();
    expect(timed([0.25], [0.75])).toEqual({
      ...{ firstStart: 0.25, lastStart: 0.75, spread: 0.5 },
      early: [],
    });
    // felt at the later half-stop, 0.75; what begins at 0.5 is heard there, at 0.748 not, at 0.8 after it
    expect(timed([0.25, 0.625], [0.375, 0.75], [0.5], [0.748], [0.8])).toEqual({
      ...{ firstStart: 0.25, lastStart: 0.8, spread: 0.55 },
      ...{ half: 0.75, halfSpread: 0.125 },
      early: [{ neck: 1, string: 3 }],
    });
  });

  it('keeps to the holes that are told, and looks for better ones where they are freed', () => {
    const setup = oneString([pedal('P1', 2, { hole: 1, crank: 5 })]);
    expect(rodsOf(rigOf(setup))[0]).toMatchObject({ hole: 1, crank: 5, measured: true });
    const [free] = rodsOf(rigOf(setup, { free: true }));
    expect(free?.startShare).toBeLessThan(rodsOf(rigOf(setup))[0]?.startShare ?? 0);
    expect(free?.measured).toBe(false);
  });

  it('leaves a rod where it lies unless another place begins by more than a twentieth of the travel better', () => {
    const changer = { raiseHolesMm: [24, 27, 28], crankHolesMm: [13, 13.5, 14, 20] };
    const wanted = oneString([pedal('P1', 2)], changer);
    const [best] = rodsOf(rigOf(wanted));
    const holes = [1, 2, 3].flatMap((hole) => [1, 2, 3, 4].map((crank) => ({ hole, crank })));
    let stayed = 0;
    let moved = 0;
    for (const told of holes) {
      const today = rigOf(oneString([pedal('P1', 2, told)], changer));
      const [was] = rodsOf(today);
      // where the stop had to be let out for it, nobody would leave it
      if (was === undefined || best === undefined || today.controls[0]?.letOut) continue;
      const [now] = rodsOf(rigOf(wanted, { near: today }));
      const stays = was.startShare <= best.startShare + 0.05;
      expect(now).toMatchObject(stays ? told : { hole: best.hole, crank: best.crank });
      if (stays && (was.hole !== best.hole || was.crank !== best.crank)) stayed++;
      if (!stays) moved++;
    }
    expect(Math.min(stayed, moved)).toBeGreaterThan(0);
  });

  it('lets out the stop of the control that needs it, and of no other', () => {
    const within = { turnDegrees: 8, mostTurnDegrees: 12, slackMm: 2, travelMm: 20 };
    const one = oneString([], { raiseHolesMm: [20], crankHolesMm: [8] });
    const on2 = pedal('P2', 1);
    const setup: Setup = {
      ...one,
      necks: one.necks.map((neck) => ({ ...neck, strings: [...neck.strings, ...neck.strings] })),
      controls: [
        { ...pedal('P1', 2), ...within },
        { ...on2, ...within, pulls: on2.pulls.map((pull) => ({ ...pull, string: 2 })) },
      ],
    };
    const [first, second] = rigOf(setup).controls;
    expect(first?.letOut).toBe(true);
    expect(first?.stopDegrees).toBeGreaterThan(8.2);
    expect(second).toMatchObject({ letOut: false, travelMm: 20 });
    expect(second?.stopDegrees).toBeCloseTo(8, 9);
    // 2 of 20 mm, and of the longer travel a smaller share
    expect(second?.slackShare).toBeCloseTo(0.1, 2);
    expect(first?.slackShare).toBeLessThan(second?.slackShare ?? 0);
  });

  it('lets the stop out where a pull needs it, and no farther than it goes', () => {
    const changer = { raiseHolesMm: [20], crankHolesMm: [8] };
    const within = { turnDegrees: 8, mostTurnDegrees: 12, slackMm: 0, travelMm: 20 };
    const setup = oneString([{ ...pedal('P1', 2), ...within }], changer);
    const [control] = rigOf(setup).controls;
    // asin(1.1434 / 8) = 8.217°
    expect(control?.stopDegrees).toBeCloseTo(8.217, 1);
    expect(control?.letOut).toBe(true);
    const tight = oneString([{ ...pedal('P1', 2), ...within, mostTurnDegrees: 8 }], changer);
    const [left] = rigOf(tight).leftOut;
    expect(left?.why).toMatchObject({ code: 'travel' });
    // 8 mm · sin 8° over 20 mm and back on 10 mm: 0.557 of the 0.572 mm: 6·log2(1 + 0.26·0.974) = 1.954 semitones
    const why = left?.why.code === 'travel' ? left.why : undefined;
    expect(why?.neededDegrees).toBeCloseTo(8.217, 1);
    expect(why?.semitones).toBeGreaterThan(1.9);
    expect(why?.semitones).toBeLessThan(2);
    expect(left === undefined ? '' : leftOutText(left, 1)).toMatch(
      /P1 cannot raise string 1 by 2: .*comes 1\.95 semitones, so that a pull of 1 can be done.*8\.2°/,
    );
  });
});

describe('what cannot be rigged says why', () => {
  it('where the finger has too few holes', () => {
    const setup = oneString([pedal('P1', 2), pedal('P2', 1), pedal('P3', 2)], { raises: 2 });
    expect(overCapacity(setup).map((each) => capacityText(each, 1))).toEqual([
      'String 1 needs 3 raises and 0 lowers; yours has 2 and 2 (its lowers taken as usual)',
    ]);
    const { leftOut, controls } = rigOf(setup);
    expect(leftOut.map(({ why }) => why)).toEqual([{ code: 'holes', needed: 3, had: 2 }]);
    expect(controls.flatMap(({ rods }) => rods)).toHaveLength(2);
    // lowers have holes of their own
    const lower: Control = { ...pedal('P1', -1), id: 'LKL', station: 'LKL' };
    const both = oneString([pedal('P1', 2), pedal('P2', 1), pedal('P3', 2), lower], { raises: 2 });
    expect(rigOf(both).leftOut.map(({ why }) => why)).toEqual([
      { code: 'holes', needed: 3, had: 2 },
    ]);
    expect(rigOf(oneString([lower], { lowers: 0 })).leftOut.map(({ why }) => why)).toEqual([
      { code: 'holes', needed: 1, had: 0 },
    ]);
  });

  it('where rods would cross: the nearer one’s crank hangs deeper than the lower rod runs', () => {
    // holes 3 mm apart, one crank hole: at the nearer shaft both rods lie at one depth
    const shafts = (atMm: number) => ({ shaftMm: atMm, turnDegrees: 8 });
    const setup = oneString(
      [
        { ...pedal('P1', 2, { hole: 2 }), ...shafts(100) },
        { ...pedal('P2', 2, { hole: 1 }), ...shafts(104) },
      ],
      { raiseHolesMm: [18, 21], crankHolesMm: [16] },
    );
    const [left] = rigOf(setup).leftOut;
    expect(left?.why).toMatchObject({ code: 'cross', controls: ['P1'] });
  });

  it('where a rod would run through another cross shaft', () => {
    const setup = oneString(
      [
        { id: 'LKL', station: 'LKL', pulls: [], shaftMm: 60 },
        { ...pedal('P1', 2), shaftMm: 120 },
      ],
      { raiseHolesMm: [18], crankHolesMm: [10], shaftDepthMm: 20, shaftThickMm: 10 },
    );
    // at 60 mm the rod lies half way from 18 mm to 30 mm deep: 24 mm, within 20 ± 6.2
    expect(rigOf(setup).leftOut.map(({ why }) => why)).toEqual([{ code: 'shaft', control: 'LKL' }]);
  });

  it('where no gauge is entered, and where a hole is told that is not there', () => {
    const bare = {
      ...oneString([pedal('P1', 2)]),
      necks: [{ name: 'n', strings: [{ open: pitch('B3') }] }],
    };
    expect(rigOf(bare).leftOut[0]?.why.code).toBe('gauge');
    const off = oneString([pedal('P1', 2, { hole: 7 })]);
    expect(rigOf(off).leftOut[0]?.why.code).toBe('noSuchHole');
  });
});

describe('the holes of one string', () => {
  const place = fc.record({
    hole: fc.integer({ min: 1, max: 3 }),
    crank: fc.integer({ min: 1, max: 3 }),
    cost: fc.double({ min: 0, max: 1, noNaN: true }),
  });
  const lane = fc.array(
    fc.record({
      kind: fc.constantFrom('raise' as const, 'lower' as const),
      shaftMm: fc.integer({ min: 60, max: 300 }),
      places: fc.array(place, { maxLength: 5 }),
    }),
    { maxLength: 4 },
  );
  const deep = (
    rods: readonly (Omit<LaneRod, 'places'> & {
      places: readonly Pick<RodPlace, 'hole' | 'crank' | 'cost'>[];
    })[],
  ): LaneRod[] =>
    rods.map((rod) => ({
      ...rod,
      places: rod.places.map((each) => ({
        ...each,
        fingerDepthMm: (rod.kind === 'raise' ? 14 : 26) + 4 * each.hole,
        crankDepthMm: 12 + 5 * each.crank,
      })),
    }));

  /** Two rods apart at two hundred places of the shorter one, and always the same of them deeper. */
  function apart(a: LaneRod, at: RodPlace, b: LaneRod, bt: RodPlace, least: number): boolean {
    if (a.kind === b.kind && at.hole === bt.hole) return false;
    const near = Math.min(a.shaftMm, b.shaftMm);
    const gaps = Array.from({ length: 201 }, (_, i) => {
      const x = (near * i) / 200;
      const depth = (rod: LaneRod, p: RodPlace) =>
        p.fingerDepthMm * (1 - x / rod.shaftMm) + p.crankDepthMm * (x / rod.shaftMm);
      return depth(a, at) - depth(b, bt);
    });
    return (
      (gaps.every((gap) => gap > 0) || gaps.every((gap) => gap < 0)) &&
      gaps.every((gap) => Math.abs(gap) >= least - 1e-9)
    );
  }

  /** Every way there is, one after the other. */
  function plainly(rods: readonly LaneRod[], least: number): readonly [number, number] {
    let best: readonly [number, number] = [Infinity, Infinity];
    const all = rods.reduce<(number | undefined)[][]>(
      (ways, rod) =>
        ways.flatMap((way) => [undefined, ...rod.places.keys()].map((each) => [...way, each])),
      [[]],
    );
    for (const way of all) {
      const laid = way.flatMap((each, i) => {
        const rod = rods[i];
        const at = each === undefined ? undefined : rod?.places[each];
        return rod === undefined || at === undefined ? [] : [{ rod, at }];
      });
      if (
        laid.some((a, i) => laid.slice(i + 1).some((b) => !apart(a.rod, a.at, b.rod, b.at, least)))
      )
        continue;
      const out = rods.length - laid.length;
      const cost = laid.reduce((sum, { at }) => sum + at.cost, 0);
      if (out < best[0] || (out === best[0] && cost < best[1])) best = [out, cost];
    }
    return best;
  }

  it('are those that plain trying of all ways finds', () => {
    fc.assert(
      fc.property(lane, fc.constantFrom(1, 2.4, 4), (drawn, rodMm) => {
        const rods = deep(drawn);
        const found = layLane(rods, rodMm);
        const [out, cost] = plainly(rods, rodMm + ROD_CLEARANCE_MM);
        expect(found.leftOut).toBe(out);
        expect(found.cost).toBeCloseTo(cost, 9);
        expect(found.proved).toBe(true);
      }),
      { numRuns: runs(150) },
    );
  });
});

describe('the force at foot and knee', () => {
  it('does the work on the strings over the travel, no more and no less', () => {
    // worked out apart in rigging.ts: mean tension × stretch; a drawn-out travel changes the force, not the work
    const rig = rigOf(E9);
    for (const control of rig.controls) {
      const own = E9.controls.find(({ id }) => id === control.control) as Control;
      const { workJ } = rigging(E9).find(({ id }) => id === control.control) ?? { workJ: NaN };
      const { meanStringsN } = forceOf(control, own);
      expect((meanStringsN * control.travelMm) / 1000).toBeCloseTo(workJ, 5);
    }
  });

  it('is that of the spring and its friction before the first string moves', () => {
    const [control] = rigOf(oneString([{ ...pedal('P1', 2), springN: 8 }])).controls;
    const own: Control = { ...pedal('P1', 2), springN: 8 };
    // a quarter of friction on 8 N
    expect(control && forceOf(control, own).restN).toBeCloseTo(10, 9);
  });

  it('is greatest where no place of the travel asks more', () => {
    const rig = rigOf(E9);
    for (const control of rig.controls) {
      const own = E9.controls.find(({ id }) => id === control.control) as Control;
      const { restN, stopN, peakN, peakShare } = forceOf(control, own);
      // what is asked anywhere is what would be asked at a stop that is set there
      const at = (share: number): number => {
        const rods = control.rods.map((rod) => ({ ...rod, startShare: rod.startShare / share }));
        return forceOf({ ...control, stop: share * control.stop, rods }, own).stopN;
      };
      expect(peakN).toBeGreaterThan(restN);
      expect(stopN).toBeCloseTo(at(1), 6);
      expect(peakN).toBeCloseTo(at(peakShare), 6);
      const most = Math.max(...Array.from({ length: 100 }, (_, i) => at((i + 1) / 100)));
      expect(peakN).toBeGreaterThan(0.995 * most);
    }
  });

  it('asks of a return spring the moment of the open string', () => {
    const setup = oneString([pedal('P1', -1)], { lowerHolesMm: [30, 40] });
    const [need] = springNeeds(setup, rigOf(setup));
    // μ = 7.85 g/cm³ · π/4 · (0.4318 mm)² = 1.1496 g/m; T = μ(2·0.61595 m·246.94 Hz)² = 106.4 N; ·10 mm / 40 mm
    expect(need?.atLowestHoleN).toBeCloseTo(26.6, 0);
    expect(need?.lowestHoleMm).toBe(40);
  });
});

describe('which measures must be exact', () => {
  it('are those whose tenth of a millimetre is heard: one in a hundred of a finger’s 10 mm', () => {
    const setup = oneString([pedal('P1', 2)], { raiseHolesMm: [20], crankHolesMm: [12] });
    const found = sensitivities(rigOf(setup), setup.scaleLengthMm);
    const of = (measure: string) => found.find((each) => each.measure === measure);
    // stretch off by 1 %: T at the stop is 1.26 T of the open string, 0.26 of it from the stretch;
    // 600·log2(1 + 0.01·0.26/1.26) = 1.78 cents
    expect(of('finger radius')?.centsATenth).toBeCloseTo(1.78, 1);
    expect(of('hole at the changer')?.centsATenth).toBeCloseTo(0.89, 1);
    expect(of('place of the cross shaft')?.exactness).toBe('a millimetre');
    expect(of('scale length')?.exactness).toBe('a millimetre');
    // 0.1 of 12 mm, of the 0.6856 of 22 mm behind the start, and of 615.95 mm, each as 1.78 cents are to 0.1 of 10 mm
    expect(of('hole of the bell crank')?.centsATenth).toBeCloseTo(1.48, 1);
    expect(of('travel')?.centsATenth).toBeCloseTo(1.18, 1);
    expect(of('scale length')?.centsATenth).toBeCloseTo(0.029, 2);
    expect(of('travel')?.startATenth).toBeCloseTo(0.1 / 22, 6);
    // five times as much would be heard, this is not
    expect(of('finger radius')?.exactness).toBe('half a millimetre');
    // a minor third: 0.414 of 1.414 T from the stretch, 2.53 cents
    const third = oneString([pedal('P1', 3)], { raiseHolesMm: [20], crankHolesMm: [12] });
    const [radius] = sensitivities(rigOf(third), third.scaleLengthMm).filter(
      ({ measure }) => measure === 'finger radius',
    );
    expect(radius?.centsATenth).toBeCloseTo(2.53, 1);
    expect(radius?.exactness).toBe('a tenth of a millimetre');
  });
});

describe('what the changer takes', () => {
  const told: Setup = { ...builtIn('e9'), changer: { raises: 2, lowers: 1 } };

  it('is said of every string beside what it needs', () => {
    const five = capacities(told).find(({ string }) => string === 5);
    expect(five && capacityText(five, 1)).toBe(
      'String 5 needs 2 raises and 1 lower; yours has 2 and 1',
    );
    expect(overCapacity(told)).toEqual([]);
  });

  it('is counted neck by neck, and what is told of a string goes before what is told of all', () => {
    const [neck] = told.necks;
    if (neck === undefined) throw new Error('no neck');
    const own = neck.strings.map((string, s) =>
      s === 4 ? { ...string, raiseHolesMm: [14, 18, 22], lowerHolesMm: [26, 30] } : string,
    );
    const two = { ...told, necks: [{ ...neck, strings: own }, neck] };
    const of5 = capacities(two).filter(({ string }) => string === 5);
    expect(of5).toMatchObject([
      { neck: 1, raises: 2, lowers: 1, raisesHad: 3, lowersHad: 2 },
      { neck: 2, raises: 0, lowers: 0, raisesHad: 2, lowersHad: 1 },
    ]);
    expect(capacities(builtIn('e9'))[4]?.told).toEqual({ raises: false, lowers: false });
    expect(of5[1]?.told).toEqual({ raises: true, lowers: true });
    // what lacks a lower alone does not fit either
    const bare = { ...told, changer: { raises: 4, lowers: 0 } };
    expect(overCapacity(bare).map(({ string }) => string)).toContain(5);
  });

  it('leaves room for several new controls only where there is some', () => {
    expect(roomFor(builtIn('e9'), ['LKV', 'RKV'])).toEqual([]);
    const of = (string: number, controls: readonly string[]) =>
      roomFor(told, controls).find((each) => each.string === string);
    // string 5 has two raises and a lower by A, C and LKV: with LKV away one lower is left for two
    expect(of(5, ['LKV', 'RKV'])).toEqual({ neck: 1, string: 5, raises: 0, lowers: 1 });
    expect(of(6, ['X'])).toEqual({ neck: 1, string: 6, raises: 1, lowers: 0 });
    // string 3 has one raise by B: of two raises one is left, which is too few for two
    expect(of(3, ['X'])).toBeUndefined();
    expect(of(3, ['X', 'Y'])).toEqual({ neck: 1, string: 3, raises: 1, lowers: 1 });
    // only lowers are told: raises are no matter
    const lowers = roomFor({ ...told, changer: { lowers: 1 } }, ['X', 'Y']);
    expect(lowers.find(({ string }) => string === 3)).toEqual({
      ...{ neck: 1, string: 3 },
      ...{ raises: 2, lowers: 1 },
    });
  });

  it('is kept to by searches where it is told, and by no other', () => {
    expect(capacityRanges(builtIn('e9'))).toEqual([]);
    // strings 4 and 5 have two raises and a lower each: nothing is left of them
    const ranges = capacityRanges(told);
    const amounts = candidatesOn(told, { stringsUpTo: 1, ranges }).sets.flatMap(({ strings }) =>
      strings.map(({ string, amounts: all }) => [string, all] as const),
    );
    expect(amounts.map(([string]) => string)).not.toContain(4);
    expect(amounts.map(([string]) => string)).not.toContain(5);
    // string 6 has one raise and one lower: it can be raised once more
    expect(amounts).toContainEqual([6, [1, 2, 3]]);
    // with LKV away, its strings have a lower free
    expect(capacityRanges(told, 'LKV').find(({ string }) => string === 5)).toMatchObject({
      least: -3,
      most: 0,
    });
  });
});

describe('the way to another rig', () => {
  it('is nothing where nothing changes', () => {
    const changes = rigDifferences(E9, E9);
    expect([changes.off, changes.on, changes.moved, changes.retuned, changes.strings]).toEqual([
      [],
      [],
      [],
      [],
      [],
    ]);
    expect(changes.kept).toBe(17);
  });

  it('takes the rods of a lever off, hooks others in, and leaves the rest where they lie', () => {
    const proposal: Setup = {
      ...E9,
      name: 'other lever',
      controls: E9.controls.map((control) =>
        control.id !== 'LKV'
          ? control
          : { ...control, id: 'new', pulls: [{ neck: 1, string: 7, semitones: 1 }] },
      ),
    };
    const changes = rigDifferences(E9, proposal);
    expect(changes.off.map(({ rod }) => rod.string)).toEqual([5, 10]);
    expect(changes.on.map(({ station, rod }) => [station, rod.control, rod.string])).toEqual([
      ['LKV', 'new', 7],
    ]);
    expect(changes.kept + changes.moved.length).toBe(15);
    expect(changes.moved).toEqual([]);
  });

  it('tells strings to buy, and those that are only tuned', () => {
    const strings = E9.necks[0]?.strings.map((string, index) =>
      index === 0
        ? { ...string, gauge: 0.012 }
        : index === 8
          ? { ...string, open: pitch('C#3') }
          : string,
    );
    const changes = rigDifferences(E9, { ...E9, necks: [{ name: 'E9', strings: strings ?? [] }] });
    expect(changes.strings.map(({ string, buy }) => [string, buy])).toEqual([
      [1, true],
      [9, false],
    ]);
  });
});
