/**
 * A rig worked out: for every pull the hole of its finger and of its bell crank, where it begins and ends on
 * the control's travel, and what cannot be done. The pulls of a control end together at its stop, where the screw
 * at each rod's end sets them; the search looks for holes that let them begin together too.
 */
import type { Control, Setup } from '$lib/setup/setup';
import { describedRig, type DescribedRig, type Shaft } from './described';
import { layLane, type LaneRod } from './lane';
import { degrees, rodWayMm, startTurn, turnAt, type Levers } from './lever';
import { whyLeftOut, type LeftOut } from './leftOut';
import { leastStop, leversOf, throughShaft, type Job, type Option } from './places';
import { wantedPull, type WantedPull } from './wantedPull';

/** A rod that is laid. Shares are of the travel of its control, 0 at rest and 1 at the stop. */
export interface LaidRod extends WantedPull {
  readonly stretchMm: number;
  readonly hole: number;
  readonly crank: number;
  readonly levers: Levers;
  /** Way of the rod in millimetres. */
  readonly wayMm: number;
  readonly startShare: number;
  readonly halfShare?: number;
  /** The holes are those that the owner told. */
  readonly measured: boolean;
}

/** One control with its stop. */
export interface RigControl extends Shaft {
  readonly station: Control['station'];
  /** Where the stop is to be set, in degrees. */
  readonly stopDegrees: number;
  /** … and how far foot, knee or hand goes then, in millimetres. */
  readonly travelMm: number;
  /** The stop has to be let out so far, since one pull needs it. */
  readonly letOut: boolean;
  readonly slackShare: number;
  readonly rods: readonly LaidRod[];
}

/** A rig worked out. */
export interface Rig {
  readonly described: DescribedRig;
  readonly controls: readonly RigControl[];
  readonly leftOut: readonly LeftOut[];
  /** Every string's rods were laid in the best way there is. */
  readonly proved: boolean;
}

/** How a rig is to be worked out. */
export interface RigWish {
  /** Do not keep to the holes that the owner told: look for better ones. */
  readonly free?: boolean;
  /** Where rods lie already: staying there is worth `MOVED` of the travel. */
  readonly near?: Rig;
}

/** What a rod that has to be moved counts as: a start a twentieth of the travel off. */
const MOVED = 0.05;

/** The stop that a control needs: as it is set, or farther out where a pull cannot be done within that. */
function stopOf(jobs: readonly Job[], rig: DescribedRig, free: boolean): number {
  const shaft = (jobs[0] as Job).shaft;
  let stop = shaft.stop;
  for (const job of jobs) {
    if (job.pull.stretchMm === undefined) continue;
    const needed = Math.min(
      ...leversOf(job, rig, free).map(({ levers }) => leastStop(levers, job.pull, shaft.slack)),
    );
    if (needed <= shaft.mostStop) stop = Math.max(stop, needed);
  }
  return stop;
}

interface Aim {
  readonly stop: number;
  /** Where the start is wanted, as a share of the travel. */
  readonly start: number;
}

function optionsOf(
  job: Job,
  rig: DescribedRig,
  aim: Aim,
  { free = false, near }: RigWish,
): Option[] {
  const { pull, shaft } = job;
  const { stretchMm: stretch } = pull;
  if (stretch === undefined) return [];
  const was = near?.controls
    .find(({ control }) => control === pull.control)
    ?.rods.find(
      (rod) => rod.neck === pull.neck && rod.string === pull.string && rod.kind === pull.kind,
    );
  return leversOf(job, rig, free).flatMap(({ hole, crank, levers }): Option[] => {
    const start = startTurn(levers, stretch, aim.stop);
    if (start === undefined || start < shaft.slack - 1e-9) return [];
    const startShare = start / aim.stop;
    const place = {
      fingerDepthMm: job.holesMm[hole - 1] ?? 0,
      crankDepthMm: rig.shaftDepthMm + levers.crankMm,
    };
    if (throughShaft(place, shaft, rig) !== undefined) return [];
    const moved = was !== undefined && (was.hole !== hole || was.crank !== crank) ? MOVED : 0;
    const cost = Math.abs(startShare - aim.start) + moved;
    return [{ hole, crank, levers, startShare, ...place, cost }];
  });
}

const sameString = (a: WantedPull, b: WantedPull): boolean =>
  a.neck === b.neck && a.string === b.string;

/** The holes that a pull's kind has on its string. */
function jobsOf(setup: Setup, rig: DescribedRig): Job[] {
  return setup.controls.flatMap((control) =>
    control.pulls.map((each): Job => {
      const pull = wantedPull(setup, control, each);
      const string = setup.necks[pull.neck - 1]?.strings[pull.string - 1];
      const shaft = rig.shafts.get(control.id);
      if (string === undefined || shaft === undefined)
        throw new Error(`no string ${pull.string} or no shaft of ${control.id}`);
      return { pull, shaft, holesMm: rig.holesMm(string, pull.kind) };
    }),
  );
}

/** Works a setup's rig out. */
export function rigOf(setup: Setup, wish: RigWish = {}): Rig {
  const described = describedRig(setup);
  const { free = false } = wish;
  const jobs = jobsOf(setup, described);
  const stops = new Map(
    setup.controls.flatMap(({ id }) => {
      const own = jobs.filter(({ pull }) => pull.control === id);
      return own.length === 0 ? [] : [[id, stopOf(own, described, free)] as const];
    }),
  );
  let proved = true;
  /** Lays all strings' rods, with starts wanted at the given shares. */
  const layAll = (startOf: (job: Job) => number): Map<Job, Option | undefined> => {
    const laid = new Map<Job, Option | undefined>();
    for (const job of jobs) {
      if (laid.has(job)) continue;
      const lane = jobs.filter(({ pull }) => sameString(pull, job.pull));
      const options = lane.map((each) =>
        optionsOf(
          each,
          described,
          { stop: stops.get(each.pull.control) ?? each.shaft.stop, start: startOf(each) },
          wish,
        ).sort((a, b) => a.cost - b.cost || a.hole - b.hole || a.crank - b.crank),
      );
      const rods = lane.map(({ pull, shaft }, i): LaneRod => ({
        kind: pull.kind,
        shaftMm: shaft.atMm,
        places: options[i] ?? [],
      }));
      const found = layLane(rods, described.rodMm);
      proved &&= found.proved;
      lane.forEach((each, i) => {
        const at = found.places[i];
        laid.set(each, at === undefined ? undefined : options[i]?.[at]);
      });
    }
    return laid;
  };
  const slackOf = ({ pull, shaft }: Job): number =>
    shaft.slack / (stops.get(pull.control) ?? shaft.stop);
  const halfShareOf = (
    { pull, shaft }: Job,
    { levers, startShare }: Option,
  ): number | undefined => {
    const stop = stops.get(pull.control) ?? shaft.stop;
    const turn =
      pull.halfStretchMm === undefined
        ? undefined
        : turnAt(levers, pull.halfStretchMm, startShare * stop);
    return turn === undefined ? undefined : turn / stop;
  };
  let laid = layAll(slackOf);
  const halves = new Map<string, number>();
  for (const [job, option] of laid) {
    const share = option && halfShareOf(job, option);
    if (share !== undefined)
      halves.set(job.pull.control, Math.max(share, halves.get(job.pull.control) ?? 0));
  }
  // at a half-stop only the pulls that have one move: the others are to begin behind it
  if (halves.size > 0)
    laid = layAll((job) =>
      job.pull.half === undefined ? (halves.get(job.pull.control) ?? slackOf(job)) : slackOf(job),
    );
  const rodOf = (job: Job, option: Option): LaidRod => {
    const { pull } = job;
    const half = halfShareOf(job, option);
    return {
      ...pull,
      stretchMm: pull.stretchMm ?? 0,
      hole: option.hole,
      crank: option.crank,
      levers: option.levers,
      wayMm: rodWayMm(option.levers, pull.stretchMm ?? 0) ?? 0,
      startShare: option.startShare,
      ...(half === undefined ? {} : { halfShare: half }),
      measured: pull.hole === option.hole && pull.crank === option.crank,
    };
  };
  const controls = setup.controls.flatMap(({ id, station }): RigControl[] => {
    const shaft = described.shafts.get(id);
    if (shaft === undefined) return [];
    const stop = stops.get(id) ?? shaft.stop;
    return [
      {
        ...shaft,
        stop,
        station,
        stopDegrees: degrees(stop),
        travelMm: shaft.armMm * stop,
        letOut: stop > shaft.stop + 1e-9,
        slackShare: shaft.slack / stop,
        rods: jobs.flatMap((job) => {
          const option = job.pull.control === id ? laid.get(job) : undefined;
          return option === undefined ? [] : [rodOf(job, option)];
        }),
      },
    ];
  });
  const leftOut = jobs.flatMap((job) =>
    laid.get(job) === undefined ? [whyLeftOut(job, jobs, laid, described, stops, free)] : [],
  );
  return { described, controls, leftOut, proved };
}
