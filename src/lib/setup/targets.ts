/**
 * Where a setup's strings really stand: the tuning targets of its strings and pulls, in cents from
 * equal temperament. A string or pull without a target stands in equal temperament.
 */
import type { ControlState, Engaged, Setup } from './setup';
import { movesOf } from './sounding';
import { offsetOfParts, partsOf, type Place } from './stretch';

/** The target of a place as the setup tells it, in cents; nothing where it does not. */
export function savedAt(setup: Setup, place: Place): number | undefined {
  const { neck, string, control, state, raisedBy } = place;
  if (control === null) return setup.necks[neck - 1]?.strings[string - 1]?.cents;
  const pull = setup.controls
    .find(({ id }) => id === control)
    ?.pulls.find((each) => each.neck === neck && each.string === string);
  if (raisedBy !== undefined) return pull?.splitCents;
  return state === 'half' ? pull?.halfCents : pull?.cents;
}

/**
 * Cents by which each string of a neck is off equal temperament, string 1 first: those of its pull's
 * target; in a split those of the sum of stretches, against the note that the semitones add up to.
 * Strings that an engaged control does not pull fall by their measured drop; at a half-stop by half of
 * it, which is a guess.
 */
export function centsOf(setup: Setup, neck: number, engaged: readonly Engaged[]): number[] {
  const targetAt = (place: Place): number => savedAt(setup, place) ?? 0;
  return movesOf(setup, neck, engaged).map((move, index) => {
    const parts = partsOf(setup, neck, index + 1, engaged, targetAt);
    return offsetOfParts(parts, targetAt, move) - dropOf(setup, neck, index + 1, engaged);
  });
}

/** How far a string falls because controls load the body, in cents. */
export function dropOf(
  setup: Setup,
  neck: number,
  string: number,
  engaged: readonly Engaged[],
): number {
  let fall = 0;
  for (const { id, state } of engaged)
    for (const drop of setup.controls.find((each) => each.id === id)?.drops ?? [])
      if (drop.neck === neck && drop.string === string) fall += drop.cents * loadIn(state);
  return fall;
}

/** How much of a control's full load is on the body: at a half-stop about half. */
const loadIn = (state: ControlState): number => (state === 'half' ? 0.5 : 1);
