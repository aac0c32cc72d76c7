/** A change that is applied to a kept setup, which another tab may have changed meanwhile. */
import { expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { proposed, withoutControl } from '$lib/setup/proposal';
import type { Setup } from '$lib/setup/setup';
import { ok } from '$lib/result';
import { applyChange } from '$lib/ui/change/applyChange';
import type { Setups } from '$lib/ui/shelf/setups.svelte';

/** A shelf with one kept setup; where there is no room, the device takes nothing. */
function shelfWith(setup: Setup, problem?: string): { document: { value: Setup }; setups: Setups } {
  const document = {
    value: setup,
    problem,
    saveVersion: () => undefined,
    edit: (next: Setup) => {
      document.value = next;
      return [];
    },
    settled: () => Promise.resolve(),
  };
  const setups = { about: () => ({}), open: () => Promise.resolve(ok(document)) };
  return { document, setups: setups as unknown as Setups };
}

const E9 = builtIn('e9');
const proposal = { with: ['RKV:5+1'] };
const after = (): Setup => {
  const made = proposed(E9, proposal);
  if (!made.ok) throw new Error('the proposal cannot be read');
  return made.value;
};

it('leaves what another tab has changed since', async () => {
  // the other tab has taken LKV off, while this one shows it still
  const { document, setups } = shelfWith(withoutControl(E9, 'LKV'));
  const done = await applyChange(setups, 'kept-1', { proposal, after: after() }, 'RKV');
  expect(done.ok).toBe(true);
  const stations = document.value.controls.map(({ station }) => station);
  expect(stations).toContain('RKV');
  expect(stations).not.toContain('LKV');
});

it('says where the device does not take it', async () => {
  const { setups } = shelfWith(E9, 'There is no room.');
  const done = await applyChange(setups, 'kept-1', { proposal, after: after() }, 'RKV');
  expect(done).toEqual({ ok: false, error: 'There is no room.' });
});
