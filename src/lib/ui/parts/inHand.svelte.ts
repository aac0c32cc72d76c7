/**
 * The progression that is worked on in this tab: other places add to it, and its setup goes along
 * where an address names the progression alone.
 */
import { storeForTab, storedForTab } from '$lib/storage/tab';

export interface InHand {
  readonly setup: string;
  /** What leads to it: the part of an address after the question mark. */
  readonly query: string;
}

const NAME = 'progression-in-hand';

function recalled(): InHand | undefined {
  try {
    const { setup, query } = JSON.parse(storedForTab(NAME) ?? '{}') as Partial<InHand>;
    return typeof setup === 'string' && typeof query === 'string' ? { setup, query } : undefined;
  } catch {
    return undefined;
  }
}

let held = $state.raw<InHand>();

export const inHand = (): InHand | undefined => held ?? recalled();

export function takeInHand(next: InHand): void {
  held = next;
  storeForTab(NAME, JSON.stringify(next));
}
