/**
 * Which one pull more would make a chord playable as it is asked for: every string by every amount,
 * on every control that is there and on one lever more, each tried with the whole search.
 */
import { movableStrings, type PlainPull, type StringRange } from '$lib/setup/candidates';
import { idAt } from '$lib/setup/controlText';
import { withControl } from '$lib/setup/proposal';
import {
  HAND,
  LEFT_KNEE,
  LEFT_KNEE_2,
  PEDALS,
  RIGHT_KNEE,
  RIGHT_KNEE_2,
  type Control,
  type Setup,
  type Station,
} from '$lib/setup/setup';
import { prepare } from './prepared';
import type { Step } from './progression';
import type { StepWishes, Wishes } from './wishes';

export interface OnePull {
  /** The control as it would be, the pull among its pulls. */
  readonly control: Control;
  readonly pull: PlainPull;
  /** Whether nothing stands at that station yet. */
  readonly isNew: boolean;
  /** Voicings in their ways that there are then. */
  readonly count: number;
  /** The effort of the easiest of them, in thousandths. */
  readonly effort: number;
}

const counted = (semitones: number): string =>
  Math.abs(semitones) === 1 ? 'a semitone' : `${Math.abs(semitones)} semitones`;

/** "a new LKV that lowers string 2 by a semitone", "B also raises string 5 by 2 semitones" */
export function onePullWords(setup: Setup, { control, pull, isNew }: OnePull): string {
  const { neck, string, semitones } = pull;
  const moves = `${semitones > 0 ? 'raises' : 'lowers'} string ${string}${
    setup.necks.length === 1 ? '' : ` of neck ${neck}`
  } by ${counted(semitones)}`;
  return isNew ? `a new ${control.id} that ${moves}` : `${control.id} also ${moves}`;
}

/**
 * Knee levers before pedals: a lever is what is added first, and what stands free most often. A second
 * bank, and levers for the hand, are what few instruments have.
 */
const ADDED_FIRST: readonly Station[] = [
  ...LEFT_KNEE,
  ...RIGHT_KNEE,
  ...PEDALS,
  ...LEFT_KNEE_2,
  ...RIGHT_KNEE_2,
  ...HAND,
];

const freeStation = (setup: Setup): Station | undefined =>
  ADDED_FIRST.find((station) => !setup.controls.some((control) => control.station === station));

/** A lock asks for a voicing that is there, so no pull is looked for that would give it. */
const unlocked = ({ hold: _hold, except: _except, ...others }: StepWishes): StepWishes => others;

/**
 * Pulls on a new lever, which take nothing from what is there, then pulls added to a control; of each
 * kind at most `most`, least effort first, then the smaller pull, then as controls and strings stand.
 * Empty where the chord needs more than one pull, or a lock alone stands in its way.
 *
 * @param ranges how far strings may be moved that do not bear three semitones either way
 */
export function onePullFor(
  setup: Setup,
  wishes: Wishes,
  step: Step,
  index: number,
  ranges: readonly StringRange[] = [],
  most = 2,
): OnePull[] {
  const own = unlocked(wishes.steps.get(index) ?? {});
  const steps = new Map(wishes.steps).set(index, own);
  const asked = { ...wishes, steps };
  if (prepare(setup, asked, step, index).layer.count > 0) return [];

  const free = freeStation(setup);
  const controls: Control[] = [
    ...(free === undefined ? [] : [{ id: idAt(setup, free), station: free, pulls: [] }]),
    ...setup.controls.filter(({ id }) => own.anyControl === true || !wishes.without.includes(id)),
  ];
  const found: OnePull[] = [];
  for (const control of controls)
    for (const { neck, string, amounts } of movableStrings(setup, { stringsUpTo: 1, ranges })) {
      if (wishes.necks !== undefined && !wishes.necks.includes(neck)) continue;
      if (control.pulls.some((pull) => pull.neck === neck && pull.string === string)) continue;
      for (const semitones of amounts) {
        const pull = { neck, string, semitones };
        const filled = { ...control, pulls: [...control.pulls, pull] };
        const { layer } = prepare(withControl(setup, filled), asked, step, index);
        if (layer.count === 0) continue;
        const isNew = control.station === free;
        found.push({
          control: filled,
          pull,
          isNew,
          count: layer.count,
          effort: layer.effort[0] ?? 0,
        });
      }
    }
  // a stable sort: equal ones stay as the controls and strings stand
  found.sort(
    (a, b) => a.effort - b.effort || Math.abs(a.pull.semitones) - Math.abs(b.pull.semitones),
  );
  const ofKind = (isNew: boolean): OnePull[] =>
    found.filter((each) => each.isNew === isNew).slice(0, most);
  return [...ofKind(true), ...ofKind(false)];
}
