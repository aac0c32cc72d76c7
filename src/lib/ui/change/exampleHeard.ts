/** An example of a suggestion as it is heard. */
import { withControl } from '$lib/setup/proposal';
import type { Control, Engaged, Setup } from '$lib/setup/setup';
import { heardPitches } from '$lib/tuning/heard';
import type { Example } from '$lib/coverage/examples';
import type { Heard } from './hearing.svelte';

/** With the bar at a fret, as the setup with new controls is tuned: it rings, and the control is engaged meanwhile. */
export function exampleHeard(
  setup: Setup,
  controls: readonly Pick<Control, 'id' | 'station' | 'pulls'>[],
  fret: number,
  { neck, strings, held, pressed, from }: Example,
): Heard {
  const after = controls.reduce((all, control) => withControl(all, control), setup);
  const at = (engaged: readonly Engaged[]): number[] =>
    heardPitches(after, { neck, fret, slant: 0, engaged, strings }).map(({ midi }) => midi);
  const to = at([...held, pressed]);
  return from === undefined ? { strings, pitches: to } : { strings, pitches: at(held), to };
}
