/**
 * Every setup that can be chosen in any place of the program. One object for the whole page, handed
 * down by the layout. An address names a setup by its id.
 */
import { getContext, setContext } from 'svelte';
import { BUILT_IN_IDS, builtIn, isBuiltInId } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';

export interface SetupChoice {
  readonly id: string;
  readonly name: string;
}

export class Setups {
  readonly builtIn: readonly SetupChoice[] = BUILT_IN_IDS.map((id) => ({
    id,
    name: builtIn(id).name,
  }));

  /** The setup with an id, or `undefined` where there is none. */
  get(id: string): Setup | undefined {
    return isBuiltInId(id) ? builtIn(id) : undefined;
  }
}

const KEY = Symbol('setups');

export const provideSetups = (setups: Setups): Setups => setContext(KEY, setups);

export function useSetups(): Setups {
  const setups = getContext<Setups | undefined>(KEY);
  if (setups === undefined) throw new Error('the layout provides no setups');
  return setups;
}
