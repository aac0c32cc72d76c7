/**
 * Which measures of a rig must be exact. Where a measure is a tenth of a millimetre off what was counted with, the rod goes
 * its way all the same and the string stops elsewhere: stretch = way × radius / hole, so that it is off by the same
 * share as the measure. The screw at the rod's end takes that out when the pull is tuned; what stays is that
 * the pull begins earlier or later than planned.
 */
import type { LaidRod, Rig, RigControl } from './rig';

/** A measure whose error is looked at. */
const SENSITIVE_MEASURES = [
  'finger radius',
  'hole at the changer',
  'hole of the bell crank',
  'travel',
  'scale length',
  'place of the cross shaft',
] as const;
export type SensitiveMeasure = (typeof SENSITIVE_MEASURES)[number];

/** The pull that an error of a tenth of a millimetre touches most. */
export interface Sensitivity {
  readonly measure: SensitiveMeasure;
  readonly control: string;
  readonly neck: number;
  readonly string: number;
  /** Cents by which its stop is off before it is tuned; 0 or more. */
  readonly centsATenth: number;
  /** By how much of the travel its start is off after it is tuned, 0 to 1. */
  readonly startATenth: number;
  readonly exactness: Exactness;
}

/** How exactly a measure has to be taken. */
export type Exactness = 'a tenth of a millimetre' | 'half a millimetre' | 'a millimetre';

/** A tenth of a millimetre, the finest that a calliper at the bench is read to. */
const TENTH_MM = 0.1;
/**
 * What is let pass: two cents of a stop before it is tuned, a hundredth of the travel at a start (common practice,
 * from memory: less is not felt under the foot, nor heard beside strings that drop by more when the body is loaded).
 */
const PASSING_CENTS = 2;
/** A share of the travel, 0 to 1. */
const PASSING_START = 0.01;

/** Cents for a millimetre of stretch at the stop: f² goes with tension, so 600·log₂ of it, differentiated. */
const centsAMm = ({ stopN, stiffnessN }: LaidRod): number =>
  (600 / Math.LN2) * (stiffnessN / stopN);

/** By which share of itself the stretch is off when the measure is off by a tenth of a millimetre. */
function shareATenth(
  measure: SensitiveMeasure,
  rod: LaidRod,
  control: RigControl,
  scaleLengthMm: number,
): number {
  const { radiusMm, holeMm, crankMm } = rod.levers;
  switch (measure) {
    case 'finger radius':
      return TENTH_MM / radiusMm;
    case 'hole at the changer':
      return TENTH_MM / holeMm;
    case 'hole of the bell crank':
      return TENTH_MM / crankMm;
    case 'travel':
      return TENTH_MM / (control.travelMm * (1 - rod.startShare));
    case 'scale length':
      return TENTH_MM / scaleLengthMm;
    case 'place of the cross shaft':
      // rods are straight and run along: it decides which rods cross, and nothing of the pitch
      return 0;
  }
}

const exactnessOf = (cents: number, start: number): Exactness =>
  cents > PASSING_CENTS || start > PASSING_START
    ? 'a tenth of a millimetre'
    : 5 * cents > PASSING_CENTS || 5 * start > PASSING_START
      ? 'half a millimetre'
      : 'a millimetre';

/** Each measure with the pull that feels it most; empty where nothing is rigged. */
export function sensitivities(rig: Rig, scaleLengthMm: number): Sensitivity[] {
  const rods = rig.controls.flatMap((control) => control.rods.map((rod) => ({ rod, control })));
  return SENSITIVE_MEASURES.flatMap((measure): Sensitivity[] => {
    const found = rods.map(({ rod, control }) => {
      const share = shareATenth(measure, rod, control, scaleLengthMm);
      const centsATenth = rod.stretchMm * share * centsAMm(rod);
      const startATenth = share * (1 - rod.startShare);
      return { rod, centsATenth, startATenth };
    });
    const [first] = found;
    if (first === undefined) return [];
    const worst = found.reduce((a, b) => (b.centsATenth > a.centsATenth ? b : a), first);
    const startATenth = Math.max(...found.map((each) => each.startATenth));
    const { control, neck, string } = worst.rod;
    return [
      {
        measure,
        control,
        neck,
        string,
        centsATenth: worst.centsATenth,
        startATenth,
        exactness: exactnessOf(worst.centsATenth, startATenth),
      },
    ];
  });
}
