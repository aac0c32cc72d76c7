/**
 * A place of the Bench beside the copedent: it is about a setup that it reads and writes into, and has an
 * address with the setup in it. What else the address holds is the place's own.
 */
import { aboutSetup } from '$lib/ui/kit/chosenSetup.svelte';
import type { Entry } from '$lib/ui/kit/addressBar';
import { PlaceState, type PlaceAddress } from '$lib/ui/kit/placeState.svelte';
import { useSetups } from '$lib/ui/shelf/setups.svelte';
import { WorkedSetup } from '$lib/ui/shelf/workedSetup.svelte';

interface OfItsOwn<Own> {
  /** What stands in the address beside the setup. */
  readonly own: () => Own;
  /** It is given by the address that the player came to. */
  readonly take: (own: Own) => void;
  /** Another setup is chosen: what was about the last one goes. */
  readonly leave?: () => void;
}

export class WorkedPlace<Own> {
  readonly #own: OfItsOwn<Own>;
  readonly #place: PlaceState<Own & { readonly setup: string }>;
  readonly worked: WorkedSetup;
  /** The setup that the address names was looked for. */
  opened = $state(false);

  /** To be made while the place's page is set up. */
  constructor(codec: PlaceAddress<Own & { readonly setup: string }>, own: OfItsOwn<Own>) {
    this.#own = own;
    this.worked = new WorkedSetup(useSetups(), (setup) =>
      this.#place.showNow({ ...own.own(), setup }),
    );
    this.#place = new PlaceState(codec, async (address) => {
      own.take(address);
      await this.worked.open(address.setup);
      this.opened = true;
    });
    aboutSetup(
      () => this.worked.id,
      (setup) => {
        own.leave?.();
        void this.worked.open(setup);
        this.#place.show({ ...own.own(), setup }, 'new');
      },
    );
  }

  /** Writes what the place shows now into the address. */
  show(entry: Entry): void {
    this.#place.show({ ...this.#own.own(), setup: this.worked.id }, entry);
  }
}
