/** How notes are called: chosen once for all places and remembered on this device. */
import { untrack } from 'svelte';
import { callNotes, isNoteNames, type NoteNames } from '$lib/theory/noteNames';
import { storeSetting, storedSetting } from '$lib/storage/setting';
import { fetchOtherNames } from './noteTexts';

const NAME = 'note-names';

class ChosenNames {
  #names = $state<NoteNames>('letters');
  /** What reads the names that were chosen last could not be fetched. */
  isMissing = $state(false);
  /** The newest choice counts, however long an older one takes. */
  #choices = 0;

  get now(): NoteNames {
    return this.#names;
  }

  /** Takes over what was chosen on an earlier visit. Call it once the page is there. */
  async recall(): Promise<void> {
    const stored = storedSetting(NAME);
    await this.#take(isNoteNames(stored) ? stored : 'letters');
  }

  async choose(names: NoteNames): Promise<void> {
    storeSetting(NAME, names);
    await this.#take(names);
  }

  /** Notes are called so when what reads such names is there; without it all stays in the names before. */
  async #take(names: NoteNames): Promise<void> {
    const number = ++this.#choices;
    const isThere = names === 'letters' || (await fetchOtherNames());
    if (number !== this.#choices) return;
    this.isMissing = !isThere;
    if (isThere) this.#names = names;
  }
}

export const chosenNames = new ChosenNames();
callNotes(() => chosenNames.now);

/**
 * Does something again when notes are called otherwise, for what was put into words where the choice is not
 * seen: by a worker. To be called while a component is set up.
 */
export function whenCalledOtherwise(again: () => void): void {
  let before = chosenNames.now;
  $effect(() => {
    const { now } = chosenNames;
    if (now === before) return;
    before = now;
    untrack(again);
  });
}
