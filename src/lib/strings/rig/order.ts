/** The order of work at the bench, a sentence a step. Common practice of the trade, from memory. */
import { prettyPitch } from '$lib/theory/display';
import type { Setup } from '$lib/setup/setup';
import { lengthText, type Units } from '../units';
import type { RigDifferences, StationedRod } from './differences';
import type { Rig } from './rig';
import { degreesText, stringNumber, stringWords, wireText } from './text';
import { timingOf } from './timing';

const list = (items: readonly string[]): string => items.join(', ');

/** Rods in the order in which they are hooked in: nearest to the strings first, since later ones cover them. */
const byDepth = (rods: readonly StationedRod[]): StationedRod[] =>
  [...rods].sort(
    (a, b) => a.rod.levers.holeMm - b.rod.levers.holeMm || a.rod.string - b.rod.string,
  );

const rodName = ({ rod }: StationedRod, necks: number): string =>
  `${rod.control} on ${stringNumber(necks, rod.neck, rod.string)}`;

/** Rods by the hole of the finger that they go into, in the order of work: `raise hole 1: A on 5 (crank 2), …; lower …`. */
function byHole(rods: readonly StationedRod[], necks: number): string {
  const holes = new Map<string, string[]>();
  for (const each of byDepth(rods)) {
    const hole = `${each.rod.kind} hole ${each.rod.hole}`;
    const placed = `${rodName(each, necks)} (crank hole ${each.rod.crank})`;
    holes.set(hole, [...(holes.get(hole) ?? []), placed]);
  }
  return [...holes].map(([hole, placed]) => `${hole}: ${list(placed)}`).join('; ');
}

/** The last steps, the same for all: stops, tuning, trial. */
function tuningSteps(setup: Setup, rig: Rig, splits: readonly string[], units: Units): string[] {
  const controls = rig.controls.filter(({ rods }) => rods.length > 0);
  const halves = controls.flatMap((control) => {
    const half = timingOf(control)?.half;
    return half === undefined ? [] : [`${control.control} at ${Math.round(100 * half)} %`];
  });
  const stops = controls.map(
    ({ control, stopDegrees, travelMm }) =>
      `${control} ${degreesText(stopDegrees)} (${lengthText(travelMm, units, 0)})`,
  );
  return [
    `Set the stops: ${list(stops)}.`,
    'Back every tuning screw off until its rod has play, so that all fingers rest against the body.',
    'Tune the open strings with nothing engaged.',
    'Tune the raises, one control at a time, held against its stop: turn the screw at the rod’s end until the note is there. Then look once more at the open strings.',
    ...(controls.some(({ rods }) => rods.some(({ kind }) => kind === 'lower'))
      ? [
          'Set the return springs of the lowers so that each string comes home from its lower, and no harder. Then tune the lowers in the same way, and look at the raises of the same strings again.',
        ]
      : []),
    ...(halves.length === 0
      ? []
      : [`Set the half-stops where they are felt: ${list(halves)} of the travel.`]),
    ...(splits.length === 0
      ? []
      : ['Then the splits, last of all, as they are told under Splits.']),
    'Press each control slowly: its strings begin where the sheet says and end together. Release: every string comes back to its note.',
    ...(setup.controls.length === 0
      ? []
      : ['Play for a while, tune again, and write down what was changed.']),
  ];
}

const SAFE =
  'Put on eye protection, and keep your face away from the line of the strings. Slacken the strings that are worked on before a rod is taken off or hooked in.';

/** The order of work for a rig from bare fingers; `splits` are what is to be said of them. */
export function orderOfWork(
  setup: Setup,
  rig: Rig,
  splits: readonly string[],
  units: Units,
): string[] {
  const rods = rig.controls.flatMap(({ station, rods: own }) =>
    own.map((rod) => ({ station, rod })),
  );
  if (rods.length === 0) return [];
  const necks = setup.necks.length;
  return [
    'Measure what this sheet calls usual, and count again; write down how the instrument is rigged today, so that there is a way back.',
    SAFE,
    'Take off the rods that are there.',
    `Hook in the rods, nearest to the strings first: ${byHole(rods, necks)}.`,
    ...tuningSteps(setup, rig, splits, units),
  ];
}

/** The order of work from today's rig to the proposal. */
export function orderOfChange(
  proposal: Setup,
  changes: RigDifferences,
  splits: readonly string[],
  units: Units,
): string[] {
  const necks = proposal.necks.length;
  const buy = changes.strings.filter((each) => each.buy);
  const { off, on, moved } = changes;
  return [
    ...(buy.length === 0
      ? []
      : [
          `Buy ${list(buy.map(({ neck, string, is }) => `${wireText(is)} for ${stringWords(necks, neck, string)}`))}, and one more of each: the first may break.`,
        ]),
    'Write down how the instrument is rigged today, so that there is a way back.',
    SAFE,
    ...(changes.removed.length + changes.fitted.length === 0
      ? []
      : [
          [
            ...(changes.removed.length === 0 ? [] : [`Take off ${list(changes.removed)}.`]),
            ...(changes.fitted.length === 0
              ? []
              : [
                  `Fit ${list(changes.fitted)} with cross shaft, cranks and stop; where the body has to be worked on, let a qualified instrument technician do it.`,
                ]),
          ].join(' '),
        ]),
    ...(off.length === 0 ? [] : [`Take off these rods: ${byHole(off, necks)}.`]),
    ...(moved.length === 0
      ? []
      : [
          `Move these: ${moved
            .map(
              ({ was, is }) =>
                `${rodName(is, necks)} from ${was.rod.kind} hole ${was.rod.hole}, crank hole ${was.rod.crank} to hole ${is.rod.hole}, crank hole ${is.rod.crank}`,
            )
            .join('; ')}.`,
        ]),
    ...(on.length === 0
      ? []
      : [`Hook in these, nearest to the strings first: ${byHole(on, necks)}.`]),
    ...(changes.strings.length === 0
      ? []
      : [
          `Fit and tune up: ${list(
            changes.strings.map(
              ({ neck, string, is }) =>
                `${stringWords(necks, neck, string)} to ${prettyPitch(is.open)}, ${wireText(is)}`,
            ),
          )}.`,
        ]),
    ...tuningSteps(proposal, changes.to, splits, units),
  ];
}
