/**
 * The setup that every place is about, chosen once, in the header. The place on show holds it (its
 * address does), so the header asks the place; where a place is about none, the last one stays chosen.
 */
import { getContext, onDestroy, setContext } from 'svelte';
import { USUAL_SETUP } from '$lib/setup/builtIns';

interface Place {
  readonly id: () => string;
  readonly choose: (id: string) => void;
}

export class ChosenSetup {
  #place = $state.raw<Place | undefined>();
  /** The same, untracked: a place that goes when the next one is there still sees what was before that. */
  #newest: Place | undefined;
  #last = $state<string>(USUAL_SETUP);

  readonly id = $derived.by(() => this.#place?.id() ?? this.#last);
  /** What leads from one place to another with it: the part of an address from the question mark. */
  readonly query = $derived.by(() =>
    this.id === USUAL_SETUP ? '' : `?setup=${encodeURIComponent(this.id)}`,
  );

  choose(id: string): void {
    this.#last = id;
    this.#place?.choose(id);
  }

  /** From now on this place is asked; gives what ends that. */
  hold(place: Place): () => void {
    this.#place = this.#newest = place;
    return () => {
      if (this.#newest !== place) return;
      this.#last = place.id();
      this.#place = this.#newest = undefined;
    };
  }
}

const KEY = Symbol('chosen setup');

export const provideChosenSetup = (chosen: ChosenSetup): ChosenSetup => setContext(KEY, chosen);

export function useChosenSetup(): ChosenSetup {
  const chosen = getContext<ChosenSetup | undefined>(KEY);
  if (chosen === undefined) throw new Error('the layout provides no chosen setup');
  return chosen;
}

/** A place says which setup it is about, and takes another from the header. To be called while it is set up. */
export function aboutSetup(id: () => string, choose: (id: string) => void): void {
  onDestroy(useChosenSetup().hold({ id, choose }));
}
