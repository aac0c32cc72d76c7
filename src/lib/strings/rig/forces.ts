/**
 * The force that a control of a rig asks of foot, knee or hand along its travel. What the strings ask follows from
 * virtual work: force × way of the foot = the sum of tension × stretch. As in the work of a control, a lowered
 * string counts in full, for its return spring has to bring it back; slack counts nothing, and the control's
 * own spring and friction come on top.
 */
import type { Control } from '$lib/setup/setup';
import { stationKind } from '$lib/setup/setup';
import { USUAL_FRICTION, USUAL_SPRING_N } from '../usualRig';
import { stretchAt, stretchRate } from './lever';
import type { LaidRod, RigControl } from './rig';

/** The force of one control, in newtons at foot, knee or hand. */
export interface RigForce {
  /** When the travel begins: the control's spring alone. */
  readonly restN: number;
  /** When it reaches the stop. */
  readonly stopN: number;
  /** The greatest on the way, and where on the travel, 0 to 1. */
  readonly peakN: number;
  readonly peakShare: number;
  /** The mean over the whole travel. */
  readonly meanN: number;
  /** The strings' share of the mean. */
  readonly meanStringsN: number;
}

/** Places on the travel that are looked at for the mean, beside every start; even, for Simpson's rule. */
const STEPS = 40;

/** What one rod's string asks at a turn of the shaft, in newtons at foot, knee or hand. */
function rodForceN(rod: LaidRod, { stop, armMm }: RigControl, turn: number): number {
  const start = rod.startShare * stop;
  if (turn < start) return 0;
  const stretch = stretchAt(rod.levers, start, turn);
  const sign = rod.kind === 'raise' ? 1 : -1;
  const tension = rod.openN + sign * stretch * rod.stiffnessN;
  return (tension * stretchRate(rod.levers, stretch, turn)) / armMm;
}

/** The mean of what one rod asks over the whole travel: Simpson's rule from its start to the stop. */
function meanOfRodN(rod: LaidRod, control: RigControl): number {
  const [from, to] = [rod.startShare * control.stop, control.stop];
  const step = (to - from) / STEPS;
  let sum = 0;
  for (let i = 0; i <= STEPS; i++) {
    const weight = i === 0 || i === STEPS ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight * rodForceN(rod, control, from + i * step);
  }
  return (sum * step) / 3 / control.stop;
}

/** The force of a control of the rig along its travel. */
export function forceOf(laid: RigControl, control: Control): RigForce {
  const springN = control.springN ?? USUAL_SPRING_N[stationKind(control.station)];
  const withRest = (stringsN: number): number => (1 + USUAL_FRICTION) * (stringsN + springN);
  const at = (turn: number): number =>
    withRest(laid.rods.reduce((sum, rod) => sum + rodForceN(rod, laid, turn), 0));
  const turns = [
    ...laid.rods.map(({ startShare }) => startShare * laid.stop),
    ...Array.from({ length: STEPS + 1 }, (_, i) => (laid.stop * i) / STEPS),
    laid.stop,
  ];
  const peak = turns.reduce((best, turn) => (at(turn) > at(best) ? turn : best), 0);
  const meanStringsN = laid.rods.reduce((sum, rod) => sum + meanOfRodN(rod, laid), 0);
  return {
    restN: withRest(0),
    stopN: at(laid.stop),
    peakN: at(peak),
    peakShare: peak / laid.stop,
    meanN: withRest(meanStringsN),
    meanStringsN,
  };
}
