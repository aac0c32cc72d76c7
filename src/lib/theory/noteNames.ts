/**
 * Names of notes as people write them in different countries: English letters, German ones (H is B
 * natural and B is B flat; Fis, Es, As), and the syllables of solfège (Do is always C). Inside, in
 * addresses, files and JSON there are letters alone; what is typed is turned into them at the border
 * (`typedNames.ts`), and what is read is written anew there.
 */
import { nameText, type Letter, type NoteName } from './pitch';

/** How notes can be called: English letters, German letters and endings, syllables. */
export const NOTE_NAMES = ['letters', 'german', 'solfege'] as const;
/** How notes are called. */
export type NoteNames = (typeof NOTE_NAMES)[number];

let typed: () => NoteNames = () => 'letters';
let shown: () => NoteNames = () => 'letters';

/**
 * Says how notes are called where people write and read them: the page says it once, with what the reader
 * chose, and the command line at every call. All that reads typed text or writes for people asks here; files,
 * links and JSON do not.
 *
 * @param asShown how they are written for the reader
 * @param asTyped how they are read, where that is another way
 */
export function callNotes(asShown: () => NoteNames, asTyped: () => NoteNames = asShown): void {
  shown = asShown;
  typed = asTyped;
}

/** How notes are called in what is shown now. */
export const shownNames = (): NoteNames => shown();
/** How notes are called in what is typed now. */
export const typedNames = (): NoteNames => typed();

/** Does a text name one of them? */
export const isNoteNames = (text: string): text is NoteNames =>
  (NOTE_NAMES as readonly string[]).includes(text);

/** The syllable of each letter. */
export const SYLLABLES: Readonly<Record<Letter, string>> = {
  C: 'Do',
  D: 'Re',
  E: 'Mi',
  F: 'Fa',
  G: 'Sol',
  A: 'La',
  B: 'Si',
};

const SIGNS: Readonly<Record<string, string>> = { '#': '♯', '##': '𝄪', b: '♭', bb: '𝄫' };

/** Signs of a note in plain letters with real ones: `bb` is 𝄫. */
export const prettySigns = (signs: string): string => SIGNS[signs] ?? signs;

/** German endings for −2 … 2; E and A lose the e of theirs, and B flat is B. */
const ENDINGS = ['eses', 'es', '', 'is', 'isis'] as const;

/** A note's German name. */
export function germanName({ letter, alter }: NoteName): string {
  if (letter === 'B' && alter === -1) return 'B';
  const own = letter === 'B' ? 'H' : letter;
  const ending = ENDINGS[alter + 2] ?? '';
  return /[AE]/.test(letter) && alter < 0 ? own + ending.slice(1) : own + ending;
}

const solfegeName = ({ letter, alter }: NoteName): string =>
  SYLLABLES[letter] + prettySigns(nameText({ letter, alter }).slice(1));

/** A note's name as a reader is used to it: `B♭` is `B` in German and `Si♭` in solfège. */
export function writtenName(name: NoteName, names: NoteNames): string {
  if (names === 'german') return germanName(name);
  if (names === 'solfege') return solfegeName(name);
  return name.letter + prettySigns(nameText(name).slice(1));
}
