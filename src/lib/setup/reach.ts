/**
 * What the body can do at once. A combination is a choice for each limb: the left foot, the left
 * knee, the right knee, the picking hand. The rules say what one limb can hold; a setup may list
 * exceptions from them. No limb keeps another from anything: what the hand holds leaves the knees free.
 *
 * All of it is common practice of the trade, from memory:
 * - A foot rocks across neighbouring pedals; there is no pressing past one between them.
 * - A knee moves one way at a time; up and sideways together only where the player can.
 * - A second bank of levers hangs apart from the first, so that the knee meets one and not the other: a
 *   knee is at one bank at a time, and holds there what it could hold at the only one.
 * - Two palm levers lie side by side under the heel of the picking hand, which presses either or both. A
 *   wrist lever stands at that hand's other edge: it turns to that or rests on the palm levers.
 * - The bar hand works no control: it is on the bar.
 */
import { Exceptions, LIMBS, limbAt, type ControlSet, type Limb } from './exceptions';
import {
  hasHalf,
  isHand,
  isPedal,
  kneeLever,
  pedalNumber,
  type Control,
  type Engaged,
  type KneeWay,
  type Reach,
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

/** A control that a knee works, with the way it goes and its bank. */
interface Lever extends ReturnType<typeof kneeLever> {
  readonly control: Control;
}

/** The levers among some controls. */
const leversOf = (controls: readonly Control[]): Lever[] =>
  controls.flatMap((control) => {
    const { station } = control;
    return isPedal(station) || isHand(station) ? [] : [{ control, ...kneeLever(station) }];
  });

/**
 * Nothing, or at one of the banks one direction or, where the player can, up together with one side.
 */
function kneeChoices(setup: Setup, limb: Limb): Choice[] {
  const levers = leversOf(setup.controls.filter(({ station }) => limbAt(station) === limb));
  const choices: Choice[] = [[]];
  for (const bank of [1, 2] as const) {
    const at = (way: KneeWay): Control[] =>
      levers.flatMap((each) => (each.bank === bank && each.way === way ? [each.control] : []));
    for (const way of ['left', 'up', 'right'] as const)
      for (const control of at(way)) choices.push(...everyState([control]));
    if (setup.reach.kneeUpWithSideways)
      for (const side of ['left', 'right'] as const)
        for (const up of at('up'))
          for (const sideways of at(side)) choices.push(...everyState([up, sideways]));
  }
  return choices;
}

/** Nothing, any one lever, or both palm levers. */
function handChoices(setup: Setup): Choice[] {
  const levers = setup.controls.filter(({ station }) => isHand(station));
  const palm = levers.filter(({ station }) => station !== 'WRIST');
  return [
    [],
    ...levers.flatMap((control) => everyState([control])),
    ...(palm.length > 1 ? everyState(palm) : []),
  ];
}

/** What one limb may do by the rules. */
const ruledChoices = (setup: Setup, limb: Limb): Choice[] =>
  limb === 'foot'
    ? footChoices(setup)
    : limb === 'picking hand'
      ? handChoices(setup)
      : kneeChoices(setup, limb);

/** What one limb does in a combination, ready to be held against the exceptions. */
interface LimbChoice {
  readonly choice: Choice;
  readonly set: ControlSet;
  /** Within the rules; else some `also` set must be met. */
  readonly ruled: boolean;
}

function limbChoices(setup: Setup, limb: Limb, exceptions: Exceptions): LimbChoice[] {
  const ruled = ruledChoices(setup, limb).map((choice): LimbChoice => ({
    choice,
    set: exceptions.setOf(choice),
    ruled: true,
  }));
  const known = new Set(ruled.map(({ set }) => set));
  const further = exceptions
    .partsOf(limb)
    .filter((set) => !known.has(set))
    .flatMap((set) =>
      everyState(Exceptions.controlsIn(set, setup.controls)).map((choice): LimbChoice => ({
        choice,
        set,
        ruled: false,
      })),
    );
  return [...ruled, ...further];
}

/** How many combinations are reachable, the one with nothing engaged among them. */
export function combinationCount(setup: Setup): number {
  if (new Exceptions(setup).none)
    return LIMBS.reduce((product, limb) => product * ruledChoices(setup, limb).length, 1);
  let count = 0;
  for (const _ of combinations(setup)) count++;
  return count;
}

/** Every reachable combination once: a choice for each limb, as far as the exceptions let it be. */
export function* combinations(setup: Setup): Generator<Choice> {
  const exceptions = new Exceptions(setup);
  const isFree = exceptions.none;
  const [feet = [], leftKnee = [], rightKnee = [], hand = []] = LIMBS.map((limb) =>
    limbChoices(setup, limb, exceptions),
  );
  const isAllowed = (held: ControlSet, ...limbs: readonly LimbChoice[]): boolean =>
    exceptions.switchedOff(held) === undefined &&
    limbs.every(({ ruled }, at) => ruled || exceptions.allows(LIMBS[at] as Limb, held));
  // a loop a limb: a setup can have tens of thousands of combinations, and each edit walks them anew
  for (const foot of feet)
    for (const left of leftKnee)
      for (const right of rightKnee) {
        const legs = [...foot.choice, ...left.choice, ...right.choice];
        const set = foot.set | left.set | right.set;
        for (const levers of hand)
          if (isFree || isAllowed(set | levers.set, foot, left, right, levers))
            yield levers.choice.length === 0 ? legs : [...legs, ...levers.choice];
      }
}

/** Why one limb cannot hold some controls by the rules; `undefined` where it can. */
function ruleAgainst(
  { pedalsAtOnce, kneeUpWithSideways }: Reach,
  limb: Limb,
  controls: readonly Control[],
): string | undefined {
  if (limb === 'foot') {
    const pedals = controls
      .map((control) => control.station)
      .filter(isPedal)
      .map(pedalNumber)
      .sort((a, b) => a - b);
    if (pedals.length > pedalsAtOnce)
      return `one foot holds at most ${pedalsAtOnce} ${pedalsAtOnce === 1 ? 'pedal' : 'pedals'} at once`;
    if (pedals.some((number, index) => index > 0 && number !== (pedals[index - 1] ?? 0) + 1))
      return 'one foot holds only pedals that are neighbours';
    return undefined;
  }
  if (limb === 'picking hand') {
    const wrist = controls.some(({ station }) => station === 'WRIST');
    return wrist && controls.length > 1
      ? 'the picking hand works its wrist lever or its palm levers, not both at once'
      : undefined;
  }
  const levers = leversOf(controls);
  const moved = (way: KneeWay): boolean => levers.some((each) => each.way === way);
  if (moved('left') && moved('right')) return `the ${limb} moves one way at a time`;
  if (new Set(levers.map(({ bank }) => bank)).size > 1)
    return `the ${limb} is at one bank of levers at a time`;
  if (moved('up') && (moved('left') || moved('right')) && !kneeUpWithSideways)
    return `the ${limb} is not lifted and moved sideways at once`;
  return undefined;
}

/** Why a set of controls cannot be engaged at once; `undefined` where it can. */
export function unreachable(setup: Setup, engaged: readonly Engaged[]): string | undefined {
  const exceptions = new Exceptions(setup);
  const controls = engaged.flatMap(({ id }) => setup.controls.filter((c) => c.id === id));
  const held = exceptions.setOf(controls);
  const off = exceptions.switchedOff(held);
  if (off !== undefined) {
    const ids = Exceptions.controlsIn(off, setup.controls).map(({ id }) => id);
    return ids.length === 1
      ? `this setup says that ${ids[0]} is never engaged`
      : `this setup says that ${ids.slice(0, -1).join(', ')} and ${ids.at(-1)} are never engaged together`;
  }
  for (const limb of LIMBS) {
    const on = controls.filter(({ station }) => limbAt(station) === limb);
    const rule = ruleAgainst(setup.reach, limb, on);
    if (rule !== undefined && !exceptions.allows(limb, held)) return rule;
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
 * which the setup lists its controls. A control that is switched off by itself stays off.
 */
export function engageWith(setup: Setup, engaged: readonly Engaged[], added: Engaged): Engagement {
  const others = engaged.filter(({ id }) => id !== added.id);
  const never = unreachable(setup, [added]);
  if (never !== undefined) return { engaged, letGo: [{ id: added.id, because: never }] };
  let together: Engaged[] = [added];
  const letGo: { id: string; because: string }[] = [];
  // all at once first: three pedals in a row are reachable where the outer two alone are not
  if (unreachable(setup, [added, ...others]) === undefined) together = [added, ...others];
  else
    for (const other of others) {
      const because = unreachable(setup, [...together, other]);
      if (because === undefined) together.push(other);
      else letGo.push({ id: other.id, because });
    }
  const index = ({ id }: Engaged): number => setup.controls.findIndex((each) => each.id === id);
  return { engaged: together.sort((a, b) => index(a) - index(b)), letGo };
}
