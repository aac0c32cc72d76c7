/**
 * What the body can do at once. A combination is a choice for each limb: the left foot, the left
 * knee, the right knee. (The right foot is on the volume pedal.)
 */
import {
  LEFT_KNEE,
  RIGHT_KNEE,
  hasHalf,
  isPedal,
  pedalNumber,
  type Control,
  type Engaged,
  type KneeStation,
  type Setup,
} from './setup';

/** Controls that one limb moves together, each in its state. */
export type Choice = readonly Engaged[];

const statesOf = (control: Control): readonly Engaged['state'][] =>
  hasHalf(control) ? ['half', 'full'] : ['full'];

/** Every way to put some controls into their states, one state each. */
function everyState(controls: readonly Control[]): Choice[] {
  let choices: Choice[] = [[]];
  for (const control of controls)
    choices = choices.flatMap((choice) =>
      statesOf(control).map((state) => [...choice, { id: control.id, state }]),
    );
  return choices;
}

/** Nothing, or up to `pedalsAtOnce` pedals whose numbers follow one another without a gap. */
export function footChoices(setup: Setup): Choice[] {
  const byNumber = new Map<number, Control>();
  for (const control of setup.controls)
    if (isPedal(control.station)) byNumber.set(pedalNumber(control.station), control);
  const choices: Choice[] = [[]];
  for (const first of [...byNumber.keys()].sort((a, b) => a - b)) {
    const together: Control[] = [];
    for (let number = first; together.length < setup.reach.pedalsAtOnce; number++) {
      const control = byNumber.get(number);
      if (control === undefined) break;
      together.push(control);
      choices.push(...everyState(together));
    }
  }
  return choices;
}

/** Nothing, one direction, or, where the player can, up together with one side. */
export function kneeChoices(
  setup: Setup,
  [left, up, right]: readonly [KneeStation, KneeStation, KneeStation],
): Choice[] {
  const at = (station: KneeStation): Control[] =>
    setup.controls.filter((control) => control.station === station);
  const choices: Choice[] = [[]];
  for (const station of [left, up, right])
    for (const control of at(station)) choices.push(...everyState([control]));
  if (setup.reach.kneeUpWithSideways)
    for (const side of [left, right])
      for (const upControl of at(up))
        for (const sideControl of at(side)) choices.push(...everyState([upControl, sideControl]));
  return choices;
}

/** The choices of the three limbs; every combination takes one of each. */
export const limbChoices = (setup: Setup): readonly [Choice[], Choice[], Choice[]] => [
  footChoices(setup),
  kneeChoices(setup, LEFT_KNEE),
  kneeChoices(setup, RIGHT_KNEE),
];

/** How many combinations are reachable, the one with nothing engaged among them. */
export const combinationCount = (setup: Setup): number =>
  limbChoices(setup).reduce((product, choices) => product * choices.length, 1);

/** Every reachable combination once. */
export function* combinations(setup: Setup): Generator<Choice> {
  const [foot, leftKnee, rightKnee] = limbChoices(setup);
  for (const pedals of foot)
    for (const left of leftKnee)
      for (const right of rightKnee) yield [...pedals, ...left, ...right];
}

/** Why a set of controls cannot be engaged at once; `undefined` where it can. */
export function unreachable(setup: Setup, engaged: readonly Engaged[]): string | undefined {
  const controls = engaged.flatMap(({ id }) => setup.controls.filter((c) => c.id === id));
  const pedals = controls
    .map((control) => control.station)
    .filter(isPedal)
    .map(pedalNumber)
    .sort((a, b) => a - b);
  if (pedals.length > setup.reach.pedalsAtOnce)
    return `one foot holds at most ${setup.reach.pedalsAtOnce} ${setup.reach.pedalsAtOnce === 1 ? 'pedal' : 'pedals'} at once`;
  if (pedals.some((number, index) => index > 0 && number !== (pedals[index - 1] ?? 0) + 1))
    return 'one foot holds only pedals that are neighbours';
  for (const [knee, [left, up, right]] of [
    ['left', LEFT_KNEE],
    ['right', RIGHT_KNEE],
  ] as const) {
    const moved = (station: KneeStation): boolean => controls.some((c) => c.station === station);
    if (moved(left) && moved(right)) return `the ${knee} knee moves one way at a time`;
    if (moved(up) && (moved(left) || moved(right)) && !setup.reach.kneeUpWithSideways)
      return `the ${knee} knee is not lifted and moved sideways at once`;
  }
  return undefined;
}

/** A combination after one more control, and what had to be let go for it. */
export interface Engagement {
  readonly engaged: Choice;
  readonly letGo: readonly { readonly id: string; readonly because: string }[];
}

/**
 * Engages a control (or changes its state) and keeps as much as can be held with it, in the order in
 * which the setup lists its controls.
 */
export function engageWith(setup: Setup, engaged: readonly Engaged[], added: Engaged): Engagement {
  const others = engaged.filter(({ id }) => id !== added.id);
  let kept: Engaged[] = [added];
  const letGo: { id: string; because: string }[] = [];
  // all at once first: three pedals in a row are reachable where the outer two alone are not
  if (unreachable(setup, [added, ...others]) === undefined) kept = [added, ...others];
  else
    for (const other of others) {
      const because = unreachable(setup, [...kept, other]);
      if (because === undefined) kept.push(other);
      else letGo.push({ id: other.id, because });
    }
  const place = ({ id }: Engaged): number => setup.controls.findIndex((each) => each.id === id);
  return { engaged: kept.sort((a, b) => place(a) - place(b)), letGo };
}
