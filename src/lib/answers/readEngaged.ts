/** Reading controls in their states, as the command line and addresses write them. */
import { ok, refuse, type Result } from '$lib/result';
import { hasHalf, type Engaged, type Setup } from '$lib/setup/setup';
import type { OptionFault } from './options';
import { listOf } from './questionParts';

/** Controls in their states, such as `A,RKR:half`, in whatever order, in that of the setup; the first fault is told. */
export function readEngaged(
  setup: Setup,
  text: string,
): Result<readonly Engaged[], OptionFault<'controls'>> {
  const engaged: Engaged[] = [];
  for (const item of listOf(text)) {
    const exact = setup.controls.find((control) => control.id === item);
    const half = /^(.*):(half|full)$/.exec(item);
    const control = exact ?? setup.controls.find(({ id }) => id === half?.[1]);
    const state = exact || half?.[2] !== 'half' ? 'full' : 'half';
    const fault = (found: string, allowed: string): OptionFault<'controls'> => ({
      path: 'controls',
      found,
      allowed,
      wrong: 'impossible',
    });
    if (control === undefined)
      return refuse(
        fault(
          `“${item}”`,
          setup.controls.length === 0
            ? 'nothing: this setup has no controls'
            : `controls of this setup: ${setup.controls.map(({ id }) => id).join(', ')}, each with :half where it has a half-stop`,
        ),
      );
    if (state === 'half' && !hasHalf(control))
      return refuse(fault(`“${item}”`, `${control.id} without :half; it has no half-stop`));
    if (engaged.some(({ id }) => id === control.id))
      return refuse(fault(`${control.id} twice`, 'each control once'));
    engaged.push({ id: control.id, state });
  }
  return ok(setup.controls.flatMap(({ id }) => engaged.find((each) => each.id === id) ?? []));
}
