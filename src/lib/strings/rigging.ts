/** What the controls of a setup have to do: how far they draw each string, and with how much work. */
import type { Control, Pull, Setup } from '$lib/setup/setup';
import { DEFAULT_BANDS, type BandSettings } from './bands';
import { effortOf, type Effort } from './effort';
import { loadOf } from './loads';
import { stretchMm, tensionFactor, workJ } from './tension';

export interface PullFigures {
  readonly neck: number;
  readonly string: number;
  readonly semitones: number;
  /** Way of the string at the changer in mm: drawn out where positive, let go where negative. */
  readonly stretchMm: number;
  /** Way of the rod in mm, where the setup tells the leverage; else the same as the stretch. */
  readonly rodMm: number;
  /** Way of this pull over that of the control's longest: all arrive together when set to this. */
  readonly share: number;
  /** Where on its own way the half-stop lies, 0 to 1. */
  readonly halfShare?: number;
  /** Work on the string, whichever way, in joules. */
  readonly workJ: number;
  /** The core of a wound string is guessed. */
  readonly estimate: boolean;
}

export interface ControlFigures {
  readonly id: string;
  /** In the order of the setup; pulls on strings without figures are left out. */
  readonly pulls: readonly PullFigures[];
  /** Pulls on strings of which nothing can be said. */
  readonly without: number;
  /** The longest, of those with figures. */
  readonly longest?: PullFigures;
  /** Work of all pulls, in joules. */
  readonly workJ: number;
  /** Way of foot or knee in mm, where the setup tells it. */
  readonly travelMm?: number;
  /** The strings' share of the mean force in newtons: their work over that way, and nothing else. */
  readonly effortN?: number;
  /** The mean force at foot, knee or hand with all that it holds; none where way and force are unknown. */
  readonly effort?: Effort;
  /** Much more work than the middle control of the setup. */
  readonly heavy: boolean;
  /** Work over that of the middle control. */
  readonly timesMiddle?: number;
}

/** The steel that stretches along when a string is pulled, in mm. */
export const wireMm = ({ scaleLengthMm, deadLengthMm = 0 }: Setup): number =>
  scaleLengthMm + deadLengthMm;

/**
 * One pull from the open string. Work on a lowered string is counted in full, as that on a raised one:
 * the return spring has to bring the string back up, and how much of that the string itself helps to
 * load depends on the make.
 */
function pullFigures(setup: Setup, pull: Pull): Omit<PullFigures, 'share'> | undefined {
  const string = setup.necks[pull.neck - 1]?.strings[pull.string - 1];
  const found = string && loadOf(setup, string, { up: 0, down: 0 });
  if (!found || 'why' in found) return undefined;
  const { wire, tensionN, estimate } = found.load;
  const wayOf = (semitones: number): number =>
    stretchMm(wire, wireMm(setup), tensionN * (tensionFactor(semitones) - 1));
  const way = wayOf(pull.semitones);
  return {
    neck: pull.neck,
    string: pull.string,
    semitones: pull.semitones,
    stretchMm: way,
    rodMm: way * (pull.leverage ?? 1),
    ...(pull.half === undefined ? {} : { halfShare: wayOf(pull.half) / way }),
    workJ: workJ(tensionN, tensionN * tensionFactor(pull.semitones), way),
    estimate,
  };
}

/** Figures of one control; a travel in mm stands in where the setup tells none. */
function controlFigures(
  setup: Setup,
  control: Control,
  travel?: number,
): Omit<ControlFigures, 'heavy'> {
  const known = control.pulls.flatMap((pull) => pullFigures(setup, pull) ?? []);
  const farthest = Math.max(...known.map(({ rodMm }) => Math.abs(rodMm)));
  const pulls = known.map((pull): PullFigures => ({
    ...pull,
    share: Math.abs(pull.rodMm) / farthest,
  }));
  const longest = pulls.find(({ share }) => share === 1);
  const work = pulls.reduce((sum, pull) => sum + pull.workJ, 0);
  const travelMm = control.travelMm ?? travel;
  const effort = effortOf(control, work, travelMm);
  return {
    id: control.id,
    pulls,
    without: control.pulls.length - known.length,
    ...(longest === undefined ? {} : { longest }),
    workJ: work,
    ...(travelMm === undefined ? {} : { travelMm, effortN: (1000 * work) / travelMm }),
    ...(effort === undefined ? {} : { effort }),
  };
}

const middle = (values: readonly number[]): number | undefined =>
  [...values].sort((a, b) => a - b)[Math.floor((values.length - 1) / 2)];

/**
 * Figures of every control, in the order of the setup. `travelMm` is the way of foot or knee to count
 * with where the setup does not tell it.
 */
export function rigging(
  setup: Setup,
  {
    bands = DEFAULT_BANDS,
    travelMm,
  }: { readonly bands?: BandSettings; readonly travelMm?: number | undefined } = {},
): ControlFigures[] {
  const figures = setup.controls.map((control) => controlFigures(setup, control, travelMm));
  const usual = middle(figures.flatMap(({ workJ }) => (workJ > 0 ? [workJ] : [])));
  return figures.map((each) => {
    if (usual === undefined || each.workJ === 0) return { ...each, heavy: false };
    const timesMiddle = each.workJ / usual;
    return { ...each, timesMiddle, heavy: timesMiddle >= bands.heavyControl };
  });
}
