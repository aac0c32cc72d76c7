/**
 * What it asks to engage controls while others stay: a control is paid for where it becomes engaged, and
 * nothing while it stays.
 */
import type { Engaged, Setup } from '$lib/setup/setup';
import { Feet } from './feet';
import type { Term } from './weights';

/**
 * The terms of what becomes engaged between two combinations: those of the second that what stays of the
 * first has not got, or has for less. With nothing engaged before they are all of `feetTerms`.
 *
 * @param middle as in `feetTerms`
 */
export const engagingTerms = (
  setup: Setup,
  from: readonly Engaged[],
  to: readonly Engaged[],
  middle?: number,
): Term[] => engagingBy(new Feet(setup, middle), from, to);

/** The same where many are asked about. */
export function engagingBy(feet: Feet, from: readonly Engaged[], to: readonly Engaged[]): Term[] {
  const stateBefore = (id: string) => from.find((each) => each.id === id)?.state;
  const stays = to.filter(({ id }) => stateBefore(id) !== undefined);
  const comes = to.filter(({ id }) => stateBefore(id) === undefined);
  if (stays.length === 0) return feet.terms(to);
  // what stays is counted first: the foot that holds one pedal takes its neighbour along
  const before = feet.terms(stays.map(({ id }) => ({ id, state: stateBefore(id) ?? 'full' })));
  return feet.terms([...stays, ...comes]).flatMap((term) => {
    const at = before.findIndex(({ name }) => name === term.name);
    const [had] = at < 0 ? [] : before.splice(at, 1);
    const value = term.value - (had?.value ?? 0);
    return value > 1e-9 ? [{ ...term, value }] : [];
  });
}
