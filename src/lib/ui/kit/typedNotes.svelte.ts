/** What stands in a field with notes in it: kept in letters, shown as the reader calls them. */
import { typedNames, type NoteNames } from '$lib/theory/noteNames';
import type { NotesIn } from '$lib/theory/typedText';
import { textCalled, textInLetters } from './noteNames.svelte';

interface Typed {
  readonly text: string;
  readonly letters: string;
  readonly names: NoteNames;
}

export class TypedNotes {
  readonly #letters: () => string;
  readonly #notes: () => NotesIn | undefined;
  /** What was typed last, and what it is in letters. */
  #typed = $state.raw<Typed | undefined>();

  /**
   * @param letters what is kept
   * @param notes what of it are notes; a text without any stays as it is
   */
  constructor(letters: () => string, notes: () => NotesIn | undefined) {
    this.#letters = letters;
    this.#notes = notes;
  }

  /** What the field shows: what was typed, as long as that is what is kept. */
  get shown(): string {
    const letters = this.#letters();
    const notes = this.#notes();
    const names = typedNames();
    if (notes === undefined || names === 'letters') return letters;
    const typed = this.#typed;
    return typed?.letters === letters && typed.names === names
      ? typed.text
      : textCalled(notes, letters);
  }

  /** A typed text in letters. */
  read(text: string): string {
    const notes = this.#notes();
    const names = typedNames();
    if (notes === undefined || names === 'letters') return text;
    const letters = textInLetters(notes, text);
    this.#typed = { text, letters, names };
    return letters;
  }
}
