/** Why a pull cannot be rigged, and the nearest that can. */
import { semitonesOf } from '../tension';
import type { DescribedRig } from './described';
import { clash } from './lane';
import { degrees } from './lever';
import { farthestMm, leastStop, leversOf, throughShaft, type Job, type Option } from './places';

/** Why a rod is left out. */
export type LeftOutWhy =
  /** The gauge of the string is not known. */
  | { readonly code: 'gauge' }
  /** The owner's hole or crank is none of those told. */
  | { readonly code: 'noSuchHole' }
  /** All holes of this kind are taken by the string's other rods; `needed` of them are wanted. */
  | { readonly code: 'holes'; readonly needed: number; readonly had: number }
  /**
   * No hole gives the stretch within the turn: the least turn in degrees that would, if any, the most that there is,
   * and how far the string comes, in semitones.
   */
  | {
      readonly code: 'travel';
      readonly neededDegrees?: number;
      readonly mostDegrees: number;
      readonly semitones: number;
    }
  /** The rod would run through the cross shaft of this control. */
  | { readonly code: 'shaft'; readonly control: string }
  /** In its best place it would cross the rods of these controls. */
  | {
      readonly code: 'cross';
      readonly controls: readonly string[];
      readonly hole: number;
      readonly crank: number;
    };

/** A pull that cannot be rigged. */
export interface LeftOut {
  readonly control: string;
  readonly neck: number;
  readonly string: number;
  readonly semitones: number;
  readonly why: LeftOutWhy;
}

/** Why this one of the jobs is not among those laid. */
export function whyLeftOut(
  job: Job,
  jobs: readonly Job[],
  laid: ReadonlyMap<Job, Option | undefined>,
  rig: DescribedRig,
  stops: ReadonlyMap<string, number>,
  free: boolean,
): LeftOut {
  const { control, neck, string, semitones } = job.pull;
  const told = (why: LeftOutWhy): LeftOut => ({ control, neck, string, semitones, why });
  if (job.pull.stretchMm === undefined) return told({ code: 'gauge' });
  const lane = jobs.filter(({ pull }) => pull.neck === neck && pull.string === string);
  const ofKind = lane.filter(({ pull }) => pull.kind === job.pull.kind);
  const holes = job.holesMm.length;
  if (holes === 0) return told({ code: 'holes', needed: ofKind.length, had: 0 });
  const all = leversOf(job, rig, free);
  if (all.length === 0) return told({ code: 'noSuchHole' });
  const stop = stops.get(control) ?? job.shaft.stop;
  const reaching = all.filter(
    ({ levers }) => leastStop(levers, job.pull, job.shaft.slack) <= stop + 1e-9,
  );
  if (reaching.length === 0) {
    const needed = Math.min(
      ...all.map(({ levers }) => leastStop(levers, job.pull, job.shaft.slack)),
    );
    const farthestN =
      job.pull.openN + Math.sign(semitones) * farthestMm(job, rig, free) * job.pull.stiffnessN;
    return told({
      code: 'travel',
      ...(needed === Infinity ? {} : { neededDegrees: degrees(needed) }),
      mostDegrees: degrees(job.shaft.mostStop),
      semitones: semitonesOf(farthestN / job.pull.openN),
    });
  }
  const placed = reaching.map(({ hole, crank, levers }) => ({
    hole,
    crank,
    fingerDepthMm: job.holesMm[hole - 1] ?? 0,
    crankDepthMm: rig.shaftDepthMm + levers.crankMm,
    cost: 0,
  }));
  const clear = placed.filter((place) => throughShaft(place, job.shaft, rig) === undefined);
  const [first] = placed;
  if (clear.length === 0 && first !== undefined)
    return told({ code: 'shaft', control: throughShaft(first, job.shaft, rig)?.control ?? '' });
  const others = lane.flatMap((each) => {
    const option = laid.get(each);
    return option === undefined ? [] : [{ job: each, option }];
  });
  const taken = others.filter((each) => each.job.pull.kind === job.pull.kind).length;
  if (taken >= holes || ofKind.length > holes)
    return told({ code: 'holes', needed: ofKind.length, had: holes });
  const crossed = clear.map((place) => ({
    place,
    controls: others.flatMap(({ job: other, option }) =>
      clash(
        { kind: job.pull.kind, shaftMm: job.shaft.atMm, places: [] },
        place,
        { kind: other.pull.kind, shaftMm: other.shaft.atMm, places: [] },
        option,
        rig.rodMm,
      ) === undefined
        ? []
        : [other.pull.control],
    ),
  }));
  const least = crossed.reduce((a, b) => (b.controls.length < a.controls.length ? b : a));
  return told({
    code: 'cross',
    controls: least.controls,
    hole: least.place.hole,
    crank: least.place.crank,
  });
}
