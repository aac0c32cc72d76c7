/** What a pull asks of its rod: how far the string's end has to move, and against what tension. */
import type { Control, Pull, Setup } from '$lib/setup/setup';
import { loadOf } from '../loads';
import { wireMm } from '../rigging';
import { stretchMm, tensionFactor } from '../tension';

/** A pull with what its string asks of it. */
export interface WantedPull {
  readonly control: string;
  readonly neck: number;
  readonly string: number;
  readonly semitones: number;
  readonly kind: 'raise' | 'lower';
  readonly half?: number;
  /** How far the string's end moves, in millimetres, 0 or more; none where the gauge is not known. */
  readonly stretchMm?: number;
  readonly halfStretchMm?: number;
  /** Tension of the open string and at the stop, in newtons. */
  readonly openN: number;
  readonly stopN: number;
  /** Newtons of tension for each millimetre of stretch. */
  readonly stiffnessN: number;
  /** The core of a wound string is guessed. */
  readonly estimate: boolean;
  /** As the owner has it hooked up; from 1. */
  readonly hole?: number;
  readonly crank?: number;
  /** The rod's way over the string's, as measured at that hole. */
  readonly leverage?: number;
}

/** A pull with the figures of its string. */
export function wantedPull(setup: Setup, control: Control, pull: Pull): WantedPull {
  const string = setup.necks[pull.neck - 1]?.strings[pull.string - 1];
  const found = string && loadOf(setup, string, { up: 0, down: 0 });
  const { neck, semitones, half, hole, crank, leverage } = pull;
  const plain = {
    control: control.id,
    neck,
    string: pull.string,
    semitones,
    kind: semitones > 0 ? ('raise' as const) : ('lower' as const),
    ...(half === undefined ? {} : { half }),
    ...(hole === undefined ? {} : { hole }),
    ...(crank === undefined ? {} : { crank }),
    ...(leverage === undefined ? {} : { leverage }),
  };
  if (found === undefined || 'why' in found)
    return { ...plain, openN: 0, stopN: 0, stiffnessN: 0, estimate: false };
  const { wire, tensionN, estimate } = found.load;
  const stretchFor = (by: number): number =>
    Math.abs(stretchMm(wire, wireMm(setup), tensionN * (tensionFactor(by) - 1)));
  return {
    ...plain,
    stretchMm: stretchFor(semitones),
    ...(half === undefined ? {} : { halfStretchMm: stretchFor(half) }),
    openN: tensionN,
    stopN: tensionN * tensionFactor(semitones),
    stiffnessN: (wire.modulusMpa * wire.areaMm2) / wireMm(setup),
    estimate,
  };
}
