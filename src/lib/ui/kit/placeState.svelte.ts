/**
 * A place of the program and its address, in one: reads the address that the player comes to, writes
 * what the place shows, tells own steps from those of links and of the history, and says of an answer
 * whether it is still the newest. To be made while the place's page is set up.
 */
import { afterNavigate, beforeNavigate, goto } from '$app/navigation';
import { resolve } from '$app/paths';
import { onDestroy } from 'svelte';
import { AddressBar, type Entry } from './addressBar';
import { ownStep } from './ownStep';

/** What a place's address says, and how. */
export interface PlaceAddress<Address> {
  readonly path:
    | '/'
    | '/change'
    | '/compare'
    | '/practice'
    | '/arrange'
    | '/bench'
    | '/bench/strings'
    | '/bench/rig'
    | '/bench/tuning'
    | '/sheet'
    | '/book';
  read(parts: URLSearchParams): Address;
  /** The text after the question mark, without it; empty at the usual state. */
  write(address: Address): string;
}

export class PlaceState<Address> {
  readonly #codec: PlaceAddress<Address>;
  readonly #bar: AddressBar;
  #begun = 0;

  /**
   * `open` is called for every address that is news to the place: at the first visit, by a link, by Back.
   * `newest` says whether the player has not gone on to another one since.
   */
  constructor(
    codec: PlaceAddress<Address>,
    open: (address: Address, newest: () => boolean) => void | Promise<void>,
  ) {
    this.#codec = codec;
    this.#bar = new AddressBar((text, replaceState) =>
      // eslint-disable-next-line svelte/no-navigation-without-resolve -- resolved, with a query behind it
      goto(resolve(codec.path) + (text === '' ? '' : `?${text}`), {
        replaceState,
        keepFocus: true,
        noScroll: true,
      }),
    );
    beforeNavigate((step) => {
      if (!ownStep(step)) this.#bar.leave();
    });
    afterNavigate((step) => {
      // what the place put into the address itself is known already
      if (ownStep(step) || !step.to) return;
      void open(codec.read(step.to.url.searchParams), this.begin());
    });
    onDestroy(() => this.#bar.leave());
  }

  /** Begins something of which only the newest counts; the answer says whether it still does. */
  begin(): () => boolean {
    const number = ++this.#begun;
    return () => number === this.#begun;
  }

  /** Writes what the place shows now into the address. */
  show(address: Address, entry: Entry): void {
    this.#bar.show(this.#codec.write(address), entry);
  }

  /** Writes it in the place of the present entry, at once. */
  showNow(address: Address): void {
    this.#bar.now(this.#codec.write(address));
  }

  /** The first letter of a new question opens an entry; those after it go into the same one. */
  entryWhileTyping(): Entry {
    return this.#bar.entryWhileTyping();
  }

  /** The player has finished typing. */
  settle(): void {
    this.#bar.settle();
  }
}
