/** Which control it is, where one string alone is off under a bar. */
import { pullIn, type Setup } from '$lib/setup/setup';
import type { Hold } from '$lib/search/hold';
import type { ShownBar } from './calm';

/** A string off its bar by more than this, in cents, stands out. */
const STANDS_OUT = 5;

/** Strings that stand out, each with a sentence: what control is short of its stop, or beyond it. */
export function standsOut(
  setup: Setup,
  { neck, engaged }: Hold,
  { apart, strings }: ShownBar,
): { readonly string: number; readonly cents: number; readonly words: string }[] {
  // with two strings it is as likely the bar
  if (strings.length < 3) return [];
  return strings.flatMap((string, at) => {
    const cents = apart[at] ?? 0;
    if (Math.abs(cents) <= STANDS_OUT) return [];
    const size = Math.abs(cents).toFixed(0);
    const pulling = engaged.flatMap(({ id, state }) => {
      const control = setup.controls.find((each) => each.id === id);
      const pull = control?.pulls.find((each) => each.neck === neck && each.string === string);
      const move = pull === undefined ? 0 : pullIn(pull, state);
      return move === 0 ? [] : [{ id, move }];
    });
    const [{ id, move } = { id: '', move: 0 }] = pulling;
    const words =
      pulling.length === 1
        ? `${id} is ${size} cents ${cents * move < 0 ? 'short of' : 'beyond'} its stop on string ${string}.`
        : `String ${string} is ${size} cents ${cents > 0 ? 'sharp' : 'flat'} of the others.`;
    return [{ string, cents, words }];
  });
}
