/** The way from one rig to another: rods that come off, go on, move or stay, stops, and strings to buy. */
import type { Setup, SetupString, Station } from '$lib/setup/setup';
import { rigOf, type LaidRod, type Rig } from './rig';

/** A rod with the station of its control: controls are matched by where they are mounted. */
export interface StationedRod {
  readonly station: Station;
  readonly rod: LaidRod;
}

/** A string that has to be fitted, or tuned to another note. */
export interface StringChange {
  readonly neck: number;
  readonly string: number;
  readonly was: SetupString | undefined;
  readonly is: SetupString;
  /** The wire itself is another, so that one has to be bought. */
  readonly buy: boolean;
}

/** A stop that has to be set anew; degrees of the cross shaft. */
export interface StopChange {
  readonly station: Station;
  readonly wasDegrees: number;
  readonly isDegrees: number;
}

/** What differs between two rigs, both worked out. */
export interface RigDifferences {
  readonly from: Rig;
  readonly to: Rig;
  readonly off: readonly StationedRod[];
  readonly on: readonly StationedRod[];
  /** The same string on the same control, in another hole. */
  readonly moved: readonly { readonly was: StationedRod; readonly is: StationedRod }[];
  /** In the same holes, but for another interval: to be tuned anew. */
  readonly retuned: readonly { readonly was: StationedRod; readonly is: StationedRod }[];
  readonly kept: number;
  readonly stops: readonly StopChange[];
  readonly strings: readonly StringChange[];
  /** Strings of today's rig that the proposal has not got. */
  readonly stringsOff: readonly { readonly neck: number; readonly string: number }[];
  /** Stations with a control in one of the two alone. */
  readonly fitted: readonly Station[];
  readonly removed: readonly Station[];
}

const rodsOf = (rig: Rig): StationedRod[] =>
  rig.controls.flatMap(({ station, rods }) => rods.map((rod) => ({ station, rod })));

/** The same string, pulled the same way, by the control at the same station: one rod can do it. */
const sameRod = (a: StationedRod, b: StationedRod): boolean =>
  a.station === b.station &&
  a.rod.neck === b.rod.neck &&
  a.rod.string === b.rod.string &&
  a.rod.kind === b.rod.kind;

const sameHoles = ({ rod: a }: StationedRod, { rod: b }: StationedRod): boolean =>
  a.hole === b.hole && a.crank === b.crank;

const sameWire = (a: SetupString, b: SetupString): boolean =>
  a.gauge === b.gauge && (a.wound ?? false) === (b.wound ?? false) && a.coreGauge === b.coreGauge;

function stringChanges(a: Setup, b: Setup): StringChange[] {
  return b.necks.flatMap(({ strings }, n) =>
    strings.flatMap((is, s): StringChange[] => {
      const was = a.necks[n]?.strings[s];
      const buy = was === undefined || (is.gauge !== undefined && !sameWire(was, is));
      if (!buy && was.open.midi === is.open.midi) return [];
      return [{ neck: n + 1, string: s + 1, was, is, buy }];
    }),
  );
}

/** The rig that the proposal would have on the same instrument: what it does not tell itself is as today. */
function onSameInstrument(a: Setup, b: Setup): Setup {
  return {
    ...b,
    ...(b.changer === undefined && a.changer !== undefined ? { changer: a.changer } : {}),
    ...(b.fingerRadiusMm === undefined && a.fingerRadiusMm !== undefined
      ? { fingerRadiusMm: a.fingerRadiusMm }
      : {}),
    necks: b.necks.map((neck, n) => ({
      ...neck,
      strings: neck.strings.map((string, s) => {
        const was = a.necks[n]?.strings[s];
        return {
          ...(was?.raiseHolesMm === undefined ? {} : { raiseHolesMm: was.raiseHolesMm }),
          ...(was?.lowerHolesMm === undefined ? {} : { lowerHolesMm: was.lowerHolesMm }),
          ...string,
        };
      }),
    })),
    controls: b.controls.map((control) => {
      const was = a.controls.find(({ station }) => station === control.station);
      if (was === undefined) return control;
      const { travelMm, slackMm, springN, shaftMm, turnDegrees, mostTurnDegrees } = was;
      const ownTurn = control.turnDegrees !== undefined || control.mostTurnDegrees !== undefined;
      return {
        ...(travelMm === undefined ? {} : { travelMm }),
        ...(slackMm === undefined || control.travelMm !== undefined ? {} : { slackMm }),
        ...(springN === undefined ? {} : { springN }),
        ...(shaftMm === undefined ? {} : { shaftMm }),
        ...(turnDegrees === undefined || ownTurn ? {} : { turnDegrees }),
        ...(mostTurnDegrees === undefined || ownTurn ? {} : { mostTurnDegrees }),
        ...control,
      };
    }),
  };
}

/**
 * What has to be done to get from today's rig to another one on the same instrument. The new rig keeps rods where they lie
 * unless that costs more than a twentieth of the travel at a start.
 */
export function rigDifferences(today: Setup, proposal: Setup): RigDifferences {
  const from = rigOf(today);
  const next = onSameInstrument(today, proposal);
  const byStation = new Map(today.controls.map(({ id, station }) => [station, id]));
  // rods are known by their control’s id: those of today are told under the ids that the proposal has
  const renamed: Rig = {
    ...from,
    controls: next.controls.flatMap(({ id, station }) => {
      const was = from.controls.find(({ control }) => control === byStation.get(station));
      return was === undefined ? [] : [{ ...was, control: id }];
    }),
  };
  const to = rigOf(next, { near: renamed });
  const [were, are] = [rodsOf(from), rodsOf(to)];
  const pairs = are.flatMap((is) => {
    const was = were.find((each) => sameRod(each, is));
    return was === undefined ? [] : [{ was, is }];
  });
  const stay = pairs.filter(({ was, is }) => sameHoles(was, is));
  const stations = (setup: Setup): Station[] => setup.controls.map(({ station }) => station);
  return {
    from,
    to,
    off: were.filter((was) => !pairs.some((pair) => pair.was === was)),
    on: are.filter((is) => !pairs.some((pair) => pair.is === is)),
    moved: pairs.filter(({ was, is }) => !sameHoles(was, is)),
    retuned: stay.filter(
      ({ was, is }) => was.rod.semitones !== is.rod.semitones || was.rod.half !== is.rod.half,
    ),
    kept: stay.filter(({ was, is }) => was.rod.semitones === is.rod.semitones).length,
    stops: to.controls.flatMap(({ station, stopDegrees, rods }): StopChange[] => {
      const was = from.controls.find((each) => each.station === station);
      return was === undefined ||
        rods.length === 0 ||
        Math.abs(was.stopDegrees - stopDegrees) < 0.05
        ? []
        : [{ station, wasDegrees: was.stopDegrees, isDegrees: stopDegrees }];
    }),
    strings: stringChanges(today, proposal),
    stringsOff: today.necks.flatMap(({ strings }, n) =>
      strings.flatMap((_, s) =>
        proposal.necks[n]?.strings[s] === undefined ? [{ neck: n + 1, string: s + 1 }] : [],
      ),
    ),
    fitted: stations(proposal).filter((station) => !stations(today).includes(station)),
    removed: stations(today).filter((station) => !stations(proposal).includes(station)),
  };
}
