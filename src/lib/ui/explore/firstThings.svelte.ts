/**
 * Three things to try at a first visit, on the setup that it begins with: each is done by one tap and undone by another, and gone for good
 * once it has been used. What was used is remembered on this device.
 */
import { storeSetting, storedSetting } from '$lib/storage/setting';
import { HOME, type Address } from './address';
import type { Explore } from './explore.svelte';

interface Thing {
  readonly id: string;
  readonly words: string;
  readonly do: (explore: Explore) => void;
}

const NAME = 'tried';

const THINGS: readonly Thing[] = [
  {
    id: 'pedals',
    words: 'Press A and B',
    do: (explore) => {
      for (const id of ['A', 'B']) explore.press(id);
    },
  },
  { id: 'chord', words: 'Find Am7', do: (explore) => void explore.change({ chord: 'Am7' }) },
  {
    id: 'atlas',
    words: 'See the atlas',
    do: (explore) => explore.showAtlas({ grips: 'all', cells: 'chords' }),
  },
];

export class FirstThings {
  readonly #explore: Explore;
  /** Nothing is offered before it is known what was used. */
  #used = $state.raw<readonly string[] | undefined>();
  /** What was done last, and where it began. */
  #done = $state.raw<{ readonly id: string; readonly before: Address } | undefined>();

  readonly offered = $derived.by(() =>
    this.#explore.setupId !== HOME.setup
      ? []
      : THINGS.filter(({ id }) => this.#used?.includes(id) === false).map(({ id, words }) => ({
          id,
          words,
        })),
  );
  /** What one tap undoes. */
  readonly undoes = $derived.by(() => THINGS.find(({ id }) => id === this.#done?.id)?.words);

  constructor(explore: Explore) {
    this.#explore = explore;
  }

  /** Call it once the page is there. */
  recall(): void {
    this.#used = storedSetting(NAME).split(' ');
  }

  try(id: string): void {
    const before = this.#explore.address;
    THINGS.find((each) => each.id === id)?.do(this.#explore);
    this.#done = { id, before };
    this.#used = [...(this.#used ?? []), id];
    storeSetting(NAME, this.#used.join(' ').trim());
  }

  undo(): void {
    const before = this.#done?.before;
    this.#done = undefined;
    if (before !== undefined) void this.#explore.open(before, 'new');
  }

  /** The player has gone on: what was tried is not to be undone any more. */
  forget(): void {
    this.#done = undefined;
  }
}
