/**
 * The progression that is worked on in this tab: other places add to it, and its setup goes along
 * where an address names the progression alone.
 */
import { storeForTab, storedForTab } from '$lib/storage/tab';

export interface CurrentProgression {
  readonly setup: string;
  /** What leads to it: the part of an address after the question mark. */
  readonly query: string;
}

const NAME = 'progression-in-hand';

function recalled(): CurrentProgression | undefined {
  try {
    const { setup, query } = JSON.parse(storedForTab(NAME) ?? '{}') as Partial<CurrentProgression>;
    return typeof setup === 'string' && typeof query === 'string' ? { setup, query } : undefined;
  } catch {
    return undefined;
  }
}

let current = $state.raw<CurrentProgression>();

export const currentProgression = (): CurrentProgression | undefined => current ?? recalled();

export function setCurrentProgression(next: CurrentProgression): void {
  current = next;
  storeForTab(NAME, JSON.stringify(next));
}
