/** The address on paper: where the codes of printed sheets point; set once, kept on this device. */
import { resolve } from '$app/paths';
import { readPaperAddress } from '$lib/formats/paperAddress';
import { storeSetting, storedSetting } from '$lib/storage/setting';

const NAME = 'paper-address';

class PaperAddress {
  /** What was entered; empty for the address of this page. */
  #entered = $state(storedSetting(NAME));
  /** Why what was entered last is no address. */
  fault = $state<string>();

  /** What stands in the field. */
  get entered(): string {
    return this.#entered;
  }

  /** Where this page itself is found. */
  get own(): string {
    return new URL(resolve('/'), location.href).href;
  }

  /** Where codes point. */
  get now(): string {
    const read = readPaperAddress(this.entered);
    return read.ok ? read.value : this.own;
  }

  /** Takes an address; an empty text is that of this page. What is none stays where it was typed, and is not kept. */
  enter(text: string): void {
    const read = text.trim() === '' ? undefined : readPaperAddress(text);
    this.fault = read === undefined || read.ok ? undefined : read.error;
    this.#entered = read?.ok ? read.value : text.trim();
    if (this.fault === undefined) storeSetting(NAME, this.#entered);
  }
}

export const paperAddress = new PaperAddress();
