/** Edits of what the player's legs can do at once. */
import { refuse } from '$lib/result';
import { unreachable } from '../reach';
import type { Reach, Setup } from '../setup';
import { edited, type Edited } from './edited';

export type ExceptionList = 'never' | 'also';

const holds = (ids: readonly string[], part: readonly string[]): boolean =>
  part.every((id) => ids.includes(id));
const same = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && holds(a, b);

const withReach = (setup: Setup, reach: Partial<Reach>): Edited =>
  edited({ ...setup, reach: { ...setup.reach, ...reach } });

/** How many neighbouring pedals the foot holds at once, 1 to 4. */
export const setPedalsAtOnce = (setup: Setup, pedalsAtOnce: number): Edited =>
  withReach(setup, { pedalsAtOnce });

/** Whether a knee can go up and sideways at once. */
export const setKneeUpWithSideways = (setup: Setup, kneeUpWithSideways: boolean): Edited =>
  withReach(setup, { kneeUpWithSideways });

/** Ids in the order of the setup's list, each once. */
const listed = (setup: Setup, ids: readonly string[]): string[] =>
  setup.controls.map(({ id }) => id).filter((id) => ids.includes(id));

/** “My knee cannot”: these are never engaged together, nor is anything that was allowed with them. */
export function switchOff(setup: Setup, engaged: readonly string[]): Edited {
  const ids = listed(setup, engaged);
  if (ids.length === 0) return refuse('Choose the controls that are never engaged together.');
  const { never = [], also = [] } = setup.reach;
  if (never.some((each) => same(each, ids)))
    return refuse(`${ids.join('+')} is switched off already.`);
  return withReach(setup, {
    never: [...never, ids],
    also: also.filter((each) => !holds(each, ids)),
  });
}

/** Allowed against the rule: these can be engaged together, and are no longer switched off. */
export function allow(setup: Setup, engaged: readonly string[]): Edited {
  const ids = listed(setup, engaged);
  if (ids.length < 2) return refuse('Choose two controls or more that can be engaged together.');
  const { never = [], also = [] } = setup.reach;
  const remaining = never.filter((each) => !holds(ids, each));
  const freed = { ...setup, reach: { ...setup.reach, never: remaining } };
  const held = ids.map((id) => ({ id, state: 'full' as const }));
  if (unreachable(freed, held) === undefined)
    return remaining.length < never.length
      ? edited(freed)
      : refuse(`${ids.join('+')} can be engaged together as it is.`);
  return withReach(freed, { also: [...also, ids] });
}

/** An exception no longer holds. */
export function dropException(setup: Setup, list: ExceptionList, index: number): Edited {
  const sets = setup.reach[list] ?? [];
  return withReach(setup, { [list]: sets.filter((_, each) => each !== index) });
}
