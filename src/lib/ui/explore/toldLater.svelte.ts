/**
 * The words about what is held: its names, tones and effort. They wait until the hands have been seen to
 * move. To be made while its page is set up.
 */
import { spelledBy } from '$lib/setup/spelledBy';
import { DeferredValue } from '$lib/ui/parts/deferredValue.svelte';
import type { Explore } from './explore.svelte';
import { heardView } from './heardView';

const held = (explore: Explore) => {
  const { row } = explore.list;
  return {
    sound: explore.sound,
    reference: explore.reference,
    otherwise: spelledBy(explore.setup.necks[explore.hold.neck - 1], explore.key),
    wanted:
      row && explore.found ? { chord: explore.found, missing: row.voicing.missing } : undefined,
    effort: explore.effort,
  };
};

export class ToldLater {
  readonly #told: DeferredValue<ReturnType<typeof held>>;

  constructor(explore: Explore) {
    this.#told = new DeferredValue(() => held(explore));
  }

  /** What the held strings are called. */
  readonly heard = $derived.by(() => {
    const { sound, reference, otherwise, wanted } = this.#told.value;
    return heardView(sound, reference, otherwise, wanted);
  });

  get effort(): Explore['effort'] {
    return this.#told.value.effort;
  }
}
