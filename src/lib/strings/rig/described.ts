/** A rig as its owner describes it, with the usual value wherever something is not told, and what those are. */
import type { Changer, Control, Setup, SetupString } from '$lib/setup/setup';
import { USUAL_FINGER_RADIUS_MM, USUAL_SLACK_SHARE } from '../usualRig';
import { radians } from './lever';
import {
  USUAL_CRANK_HOLES_MM,
  USUAL_LOWER_HOLES_MM,
  USUAL_MOST_TURN_DEGREES,
  USUAL_RAISE_HOLES_MM,
  USUAL_ROD_MM,
  USUAL_SHAFT_DEPTH_MM,
  USUAL_SHAFT_THICK_MM,
  USUAL_TURN_DEGREES,
  usualShaftsMm,
  usualTravelMm,
} from './usualChanger';

/** A measure that a rig is counted with. */
const RIG_MEASURES = [
  'finger radius',
  'raise holes',
  'lower holes',
  'crank holes',
  'depth of the cross shafts',
  'thickness of the cross shafts',
  'thickness of the rods',
  'places of the cross shafts',
  'turn of the cross shafts',
  'travel',
  'slack',
] as const;
export type RigMeasure = (typeof RIG_MEASURES)[number];

/** The cross shaft of one control. Turns are in radians from rest. */
export interface Shaft {
  readonly control: string;
  /** From the changer's axle, in millimetres. */
  readonly atMm: number;
  /** Where the stop is set. */
  readonly stop: number;
  /** Where it can be set at most. */
  readonly mostStop: number;
  /** The turn before the first rod may draw. */
  readonly slack: number;
  /** Way of foot, knee or hand for each radian, in millimetres. */
  readonly armMm: number;
}

/** All that is known or assumed of a rig. */
export interface DescribedRig {
  readonly radiusMm: number;
  readonly crankHolesMm: readonly number[];
  readonly shaftDepthMm: number;
  readonly shaftThickMm: number;
  readonly rodMm: number;
  readonly shafts: ReadonlyMap<string, Shaft>;
  /** The holes of a string's finger, raising or lowering, in millimetres from the axle. */
  readonly holesMm: (string: SetupString, kind: 'raise' | 'lower') => readonly number[];
  /** What is not told, and counted with usual values. */
  readonly usual: readonly RigMeasure[];
}

/** As many usual holes as a changer has rods; more than there are follow in the same step. */
function usualHoles(usual: readonly number[], rods: number | undefined): readonly number[] {
  if (rods === undefined) return usual;
  const step = 5;
  const last = usual.at(-1) ?? 0;
  return Array.from({ length: rods }, (_, i) => usual[i] ?? last + step * (i + 1 - usual.length));
}

function shaftOf(control: Control, atMm: number): Shaft {
  const turn = control.turnDegrees ?? USUAL_TURN_DEGREES;
  const most =
    control.mostTurnDegrees ??
    (control.turnDegrees === undefined ? USUAL_MOST_TURN_DEGREES : control.turnDegrees);
  const travelMm = control.travelMm ?? usualTravelMm(control);
  const stop = radians(Math.min(turn, most));
  const slackShare =
    control.slackMm === undefined ? USUAL_SLACK_SHARE : Math.min(0.95, control.slackMm / travelMm);
  return {
    control: control.id,
    atMm,
    stop,
    mostStop: radians(most),
    slack: slackShare * stop,
    armMm: travelMm / stop,
  };
}

/** Reads the rig out of a setup. */
export function describedRig(setup: Setup): DescribedRig {
  const { controls, fingerRadiusMm } = setup;
  const changer: Changer = setup.changer ?? {};
  const places = usualShaftsMm(controls);
  const strings = setup.necks.flatMap((neck) => neck.strings);
  const all = (told: (control: Control) => unknown): boolean =>
    controls.every((control) => told(control) !== undefined);
  const told: Readonly<Record<RigMeasure, boolean>> = {
    'finger radius': fingerRadiusMm !== undefined,
    'raise holes':
      changer.raiseHolesMm !== undefined ||
      strings.every(({ raiseHolesMm }) => raiseHolesMm !== undefined),
    'lower holes':
      changer.lowerHolesMm !== undefined ||
      strings.every(({ lowerHolesMm }) => lowerHolesMm !== undefined),
    'crank holes': changer.crankHolesMm !== undefined,
    'depth of the cross shafts': changer.shaftDepthMm !== undefined,
    'thickness of the cross shafts': changer.shaftThickMm !== undefined,
    'thickness of the rods': changer.rodMm !== undefined,
    'places of the cross shafts': all(({ shaftMm }) => shaftMm),
    'turn of the cross shafts': all(({ turnDegrees }) => turnDegrees),
    travel: all(({ travelMm }) => travelMm),
    slack: all(({ slackMm }) => slackMm),
  };
  const raise = changer.raiseHolesMm ?? usualHoles(USUAL_RAISE_HOLES_MM, changer.raises);
  const lower = changer.lowerHolesMm ?? usualHoles(USUAL_LOWER_HOLES_MM, changer.lowers);
  return {
    radiusMm: fingerRadiusMm ?? USUAL_FINGER_RADIUS_MM,
    crankHolesMm: changer.crankHolesMm ?? USUAL_CRANK_HOLES_MM,
    shaftDepthMm: changer.shaftDepthMm ?? USUAL_SHAFT_DEPTH_MM,
    shaftThickMm: changer.shaftThickMm ?? USUAL_SHAFT_THICK_MM,
    rodMm: changer.rodMm ?? USUAL_ROD_MM,
    shafts: new Map(
      controls.map((control) => [
        control.id,
        shaftOf(control, control.shaftMm ?? places.get(control.id) ?? 0),
      ]),
    ),
    holesMm: (string, kind) =>
      kind === 'raise' ? (string.raiseHolesMm ?? raise) : (string.lowerHolesMm ?? lower),
    usual: RIG_MEASURES.filter((measure) => !told[measure]),
  };
}
