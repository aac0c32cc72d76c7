/** A rig in words and figures, the same on the page, on paper and in the terminal. */
import { signed } from '$lib/theory/signed';
import { gaugeText } from '$lib/setup/gaugeText';
import type { Setup } from '$lib/setup/setup';
import { forceText, lengthText, type Units } from '../units';
import { capacityText, overCapacity } from './overCapacity';
import { forceOf } from './forces';
import type { LeftOut } from './leftOut';
import type { LaidRod, Rig, RigControl } from './rig';
import { sensitivities } from './sensitivity';
import { springNeeds } from './springs';
import { timingOf } from './timing';

/** `14 %` */
export const shareText = (share: number): string => `${Math.round(100 * share)} %`;
/** `8.0°` */
export const degreesText = (degrees: number): string => `${degrees.toFixed(1)}°`;

/** `5`, or `2/5` where there are several necks. */
export const stringNumber = (necks: number, neck: number, string: number): string =>
  necks > 1 ? `${neck}/${string}` : String(string);

/** `string 5`, `string 5 of neck 2`. */
export const stringWords = (necks: number, neck: number, string: number): string =>
  `string ${string}${necks > 1 ? ` of neck ${neck}` : ''}`;

/** `2 (23.0 mm)` */
const numbered = (hole: number, mm: number, units: Units): string =>
  `${hole} (${lengthText(mm, units)})`;

/** One rod as the cells of a table. */
export interface RodCells {
  readonly key: string;
  readonly string: string;
  /** `+2`, with a half-stop `−1/−2`. */
  readonly pull: string;
  /** `raise 2 (23.0 mm)`, and its parts. */
  readonly hole: string;
  readonly holeName: string;
  readonly holeAt: string;
  /** `3 (16.0 mm)`, and its parts. */
  readonly crank: string;
  readonly crankName: string;
  readonly crankAt: string;
  readonly stretch: string;
  readonly way: string;
  readonly starts: string;
  readonly half: string;
  /** The owner told these holes. */
  readonly measured: boolean;
  readonly estimate: boolean;
}

/** Cells of a rod. */
export function rodCells(rod: LaidRod, necks: number, units: Units): RodCells {
  const { neck, string, semitones, half, kind } = rod;
  return {
    key: `${neck}/${string}/${rod.control}`,
    string: stringNumber(necks, neck, string),
    pull: `${half === undefined ? '' : `${signed(half, 0)}/`}${signed(semitones, 0)}`,
    hole: `${kind} ${numbered(rod.hole, rod.levers.holeMm, units)}`,
    holeName: `${kind} ${rod.hole}`,
    holeAt: lengthText(rod.levers.holeMm, units),
    crank: numbered(rod.crank, rod.levers.crankMm, units),
    crankName: String(rod.crank),
    crankAt: lengthText(rod.levers.crankMm, units),
    stretch: `${rod.estimate ? '~ ' : ''}${lengthText(rod.stretchMm, units, 2)}`,
    way: lengthText(rod.wayMm, units, 2),
    starts: shareText(rod.startShare),
    half: rod.halfShare === undefined ? '' : shareText(rod.halfShare),
    measured: rod.measured,
    estimate: rod.estimate,
  };
}

/** Starts that lie no farther apart are felt as one (common practice, from memory). */
const TOGETHER = 0.1;

/** What is to be said of a control: its stop, its force, when its pulls begin. */
export interface ControlLines {
  readonly id: string;
  readonly station: string;
  readonly stop: string;
  readonly force: string;
  readonly timing: string;
  /** What asks for attention. */
  readonly notes: readonly string[];
  readonly rods: readonly RodCells[];
}

function timingWords(control: RigControl): string {
  const timing = timingOf(control);
  if (timing === undefined) return '';
  const { firstStart, lastStart, spread, half } = timing;
  const [first, last] = [shareText(firstStart), shareText(lastStart)];
  const shares = first === last ? first : `${first} to ${last}`;
  const end = control.rods.length > 1 ? ', all end together at the stop' : '';
  const begin =
    control.rods.length === 1
      ? `begins at ${first} of the travel`
      : spread <= TOGETHER
        ? `begin together, at ${shares} of the travel`
        : `begin at ${shares} of the travel`;
  return `${begin}${half === undefined ? '' : `, half-stop at ${shareText(half)}`}${end}`;
}

function notesOf(setup: Setup, control: RigControl): string[] {
  const timing = timingOf(control);
  const necks = setup.necks.length;
  const late = control.rods.filter(
    ({ half, startShare }) =>
      timing?.half === undefined &&
      half === undefined &&
      startShare - (timing?.firstStart ?? 0) > TOGETHER,
  );
  return [
    ...(control.letOut
      ? [
          `The stop has to be let out to ${degreesText(control.stopDegrees)}: with less, one of its pulls does not reach its note.`,
        ]
      : []),
    ...late.map(
      ({ neck, string, startShare }) =>
        `${capital(stringWords(necks, neck, string))} begins late, at ${shareText(startShare)}: none of the free holes makes its pull longer. It ends with the others all the same.`,
    ),
    ...(timing?.early ?? []).map(
      ({ neck, string }) =>
        `${capital(stringWords(necks, neck, string))} begins before the half-stop, and is heard there.`,
    ),
    ...((timing?.halfSpread ?? 0) > 0.02
      ? [
          `The half-stops of its strings lie ${shareText(timing?.halfSpread ?? 0)} of the travel apart.`,
        ]
      : []),
  ];
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Every control of a rig in words. */
export function controlLines(setup: Setup, rig: Rig, units: Units): ControlLines[] {
  return rig.controls.flatMap((control): ControlLines[] => {
    const own = setup.controls.find(({ id }) => id === control.control);
    if (own === undefined || control.rods.length === 0) return [];
    const force = forceOf(control, own);
    const peak =
      force.peakN > force.stopN + 0.5
        ? `, most ${forceText(force.peakN, units)} at ${shareText(force.peakShare)}`
        : '';
    const arm = own.station === control.station && own.forceN !== undefined;
    return [
      {
        id: control.control,
        station: control.station,
        stop: `stop at ${degreesText(control.stopDegrees)}, ${lengthText(control.travelMm, units)} of travel, slack ${shareText(control.slackShare)}`,
        force: `${forceText(force.restN, units)} at rest, ${forceText(force.stopN, units)} at the stop${peak}, ${forceText(force.meanN, units)} on the mean${arm ? ` (measured: ${forceText(own.forceN ?? 0, units)})` : ''}`,
        timing: timingWords(control),
        notes: notesOf(setup, control),
        rods: control.rods.map((rod) => rodCells(rod, setup.necks.length, units)),
      },
    ];
  });
}

/** Why a pull cannot be rigged, and the nearest that can: a sentence or two. */
export function leftOutText(
  { control, neck, string, semitones, why }: LeftOut,
  necks: number,
): string {
  const pull = `${control} cannot ${semitones > 0 ? 'raise' : 'lower'} ${stringWords(necks, neck, string)} by ${Math.abs(semitones)}`;
  const kind = semitones > 0 ? 'raise' : 'lower';
  switch (why.code) {
    case 'gauge':
      return `${pull}: its gauge is not entered, so that nothing is known of its stretch. Enter the gauge.`;
    case 'noSuchHole':
      return `${pull} from the hole that is entered: there is none of that number. Count the holes anew, or free the rod.`;
    case 'holes':
      return `${pull}: the string needs ${why.needed} ${kind}${why.needed === 1 ? '' : 's'}, and its finger has ${why.had}. The nearest that can be rigged leaves this one out; another finger, or one pull fewer on this string, makes room.`;
    case 'travel': {
      const reached = Math.abs(why.semitones);
      const far = `Within ${degreesText(why.mostDegrees)}, the most that its stop allows, the string comes ${(Math.floor(100 * reached) / 100).toFixed(2)} semitones${reached >= 1 ? `, so that a pull of ${Math.floor(reached)} can be done` : ''}`;
      const needed =
        why.neededDegrees === undefined
          ? 'No turn of the shaft would be enough with these holes'
          : `A stop at ${degreesText(why.neededDegrees)} would do`;
      return `${pull}: the cranks cannot draw its rod far enough. ${far}. ${needed}; so would a crank hole farther from the shaft, or a hole nearer to the axle.`;
    }
    case 'shaft':
      return `${pull}: its rod would run through the cross shaft of ${why.control}. A hole farther down, or another place for one of the shafts, lets it pass.`;
    case 'cross':
      return `${pull}: ${kind} hole ${why.hole} with crank hole ${why.crank} comes nearest, where its rod would touch or cross that of ${why.controls.join(' and ')} on the same string. Free one of those rods, or change which control’s shaft lies nearer to the changer.`;
  }
}

/** Everything that cannot be done, the changer's capacity first. */
export const problemTexts = (setup: Setup, rig: Rig): string[] => [
  ...overCapacity(setup).map((each) => `${capacityText(each, setup.necks.length)}.`),
  ...rig.leftOut.map((each) => leftOutText(each, setup.necks.length)),
  ...(rig.proved
    ? []
    : ['One string has more rods than could be looked at in every way; better places may exist.']),
];

/** What the return springs of lowered strings have to hold, a sentence each. */
export const springTexts = (setup: Setup, rig: Rig, units: Units): string[] =>
  springNeeds(setup, rig).map(
    ({ neck, string, atLowestHoleN, lowestHoleMm }) =>
      `${capital(stringWords(setup.necks.length, neck, string))}: at least ${forceText(atLowestHoleN, units)} where the spring hooks in ${lengthText(lowestHoleMm, units, 0)} from the axle.`,
  );

/** How exactly each measure has to be taken, a sentence each. */
export const exactnessTexts = (setup: Setup, rig: Rig): string[] =>
  sensitivities(rig, setup.scaleLengthMm).map(
    ({ measure, control, neck, string, centsATenth, startATenth, exactness }) =>
      centsATenth < 0.05
        ? `${capital(measure)}: to ${exactness}; nothing of the pitch depends on it${measure === 'place of the cross shaft' ? ', only which rods cross' : ''}.`
        : `${capital(measure)}: to ${exactness}. A tenth of a millimetre is ${centsATenth.toFixed(1)} cents at the most (${control} on ${stringWords(setup.necks.length, neck, string)}) until its screw takes them out, and up to ${(100 * startATenth).toFixed(1)} % of the travel at its start.`,
  );

/** Which measures nobody told, as a sentence; nothing where all are. */
export function usualText(rig: Rig): string | undefined {
  const { usual } = rig.described;
  return usual.length === 0
    ? undefined
    : `Not entered, and taken as instruments usually have it (common practice, no measures of yours): ${usual.join(', ')}.`;
}

/** `.011`, `.026w`; `no gauge` where none is told. */
export const wireText = (string: { gauge?: number; wound?: boolean }): string =>
  string.gauge === undefined ? 'no gauge entered' : gaugeText({ ...string, gauge: string.gauge });

/** What the figures rest on, once beside them. */
export const RIG_NOTE =
  'Counted for an all-pull changer by the law of the lever: the finger turns about its axle, so a rod moves by its hole’s distance over the finger’s radius for every millimetre of string; the crank draws it by its own distance times the sine of the turn. Rods run straight and the cranks hang square at rest. Lowering levers are counted as turning about the same axle; where yours have a pivot of their own, measure the rod’s travel over the string’s and enter it as the leverage of the pull, with its hole.';
