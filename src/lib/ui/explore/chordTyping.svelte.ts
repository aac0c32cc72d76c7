/**
 * What stands in the field for a chord. The question and the address hold letters; what was typed in other
 * names of notes stays in the field as it was typed, as long as it means the chord that is asked.
 */
import type { Result } from '$lib/result';
import { ok, refuse } from '$lib/result';
import { prettySymbol } from '$lib/theory/display';
import type { NoteNames } from '$lib/theory/noteNames';
import { chordInLetters, keyInLetters } from '$lib/theory/typedNames';

/** A text that means one chord to one and another to another. */
export interface TwoWays {
  readonly sentence: string;
  /** In letters, most likely first. */
  readonly readings: readonly string[];
}

/** The text of a field in letters, as its own place holds it. */
const written = (letters: string, names: NoteNames): string =>
  names === 'letters' ? letters : prettySymbol(letters, names);

export class ChordTyping {
  readonly #names: () => NoteNames;
  readonly #chord: () => string;
  readonly #key: () => string;
  #typed = $state.raw<{ readonly text: string; readonly letters: string } | undefined>();
  #typedKey = $state.raw<{ readonly text: string; readonly letters: string } | undefined>();
  /** The last text, where it could not be taken. */
  twoWays = $state.raw<TwoWays | undefined>();

  /**
   * @param chord what is asked, in letters
   * @param key the same for the key
   */
  constructor(names: () => NoteNames, chord: () => string, key: () => string) {
    this.#names = names;
    this.#chord = chord;
    this.#key = key;
  }

  /** What the field for the chord shows. */
  get shown(): string {
    const typed = this.#typed;
    const chord = this.#chord();
    return typed?.letters === chord || (typed && this.twoWays)
      ? typed.text
      : written(chord, this.#names());
  }

  /** What the field for the key shows. */
  get shownKey(): string {
    const typed = this.#typedKey;
    const key = this.#key();
    return typed?.letters === key ? typed.text : written(key, this.#names());
  }

  /** Takes a typed chord: in letters; or it means two things, and the question stays as it is. */
  type(text: string): Result<string, TwoWays> {
    const names = this.#names();
    const read = chordInLetters(text, names);
    if ('letters' in read) {
      this.#typed = { text, letters: read.letters };
      this.twoWays = undefined;
      return ok(read.letters);
    }
    const meant = read.readings.map((each) => prettySymbol(each, names)).join(' or ');
    this.#typed = { text, letters: this.#chord() };
    this.twoWays = {
      sentence: `“${text.trim()}” ${read.says}. Did you mean ${meant}?`,
      readings: read.readings,
    };
    return refuse(this.twoWays);
  }

  /** Takes a typed key, in letters. */
  typeKey(text: string): string {
    const letters = keyInLetters(text, this.#names());
    this.#typedKey = { text, letters };
    return letters;
  }

  /** A reading was taken: the field shows it as notes are called. */
  took(): void {
    this.#typed = undefined;
    this.twoWays = undefined;
  }
}
