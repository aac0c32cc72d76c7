/** How notes are called: chosen once for all places and remembered on this device. */
import { untrack } from 'svelte';
import { callNotes, isNoteNames, type NoteNames } from '$lib/theory/noteNames';
import { storeSetting, storedSetting } from '$lib/storage/setting';

const NAME = 'note-names';

class ChosenNames {
  #names = $state<NoteNames>('letters');

  get now(): NoteNames {
    return this.#names;
  }

  /** Takes over what was chosen on an earlier visit. Call it once the page is there. */
  recall(): void {
    const stored = storedSetting(NAME);
    this.#names = isNoteNames(stored) ? stored : 'letters';
  }

  choose(names: NoteNames): void {
    this.#names = names;
    storeSetting(NAME, names);
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
