/**
 * How notes are called: chosen once for all places and remembered on this device. Texts with notes in them are
 * kept in letters; between a field and what is kept they are turned here.
 */
import { untrack } from 'svelte';
import { callNotes, isNoteNames, type NoteNames } from '$lib/theory/noteNames';
import type { NotesIn } from '$lib/theory/typedText';
import { storeSetting, storedSetting } from '$lib/storage/setting';

const NAME = 'note-names';

/** What reads other names than letters; it is there before they are chosen. */
let otherNames: typeof import('./otherNames') | undefined;

/** Fetches what reads other names than letters; is it there now? */
async function fetchOtherNames(): Promise<boolean> {
  try {
    otherNames ??= await import('./otherNames');
  } catch {
    return false;
  }
  return true;
}

/** What turns whole pieces, once other names than letters were chosen; until then a text is in letters. */
export const pieceTexts = (): typeof otherNames => otherNames;

/** A typed text in letters. */
export const textInLetters = (kind: NotesIn, text: string): string =>
  otherNames?.textInLetters(kind, text) ?? text;

/** A text in letters as its reader would type it. */
export const textCalled = (kind: NotesIn, text: string): string =>
  otherNames?.textCalled(kind, text) ?? text;

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
