/**
 * Texts that people type, with notes in them: into letters, as all that reads them takes them, and back into
 * the names that the reader is used to. Only what is a note or a chord is touched; the rest of a text, and
 * what cannot be read, stays as it was written.
 */
import { shownNames, typedNames, writtenName, type NoteNames } from './noteNames';
import { nameText, parseNoteName, parsePitch, type NoteName } from './pitch';
import { chordInLetters, keyInLetters, noteTextInLetters } from './typedNames';

/**
 * What of a text are notes: all of it one note, with its octave or without; a key; a chord; chords between
 * spaces, commas or bar lines, perhaps with a fret behind `@`; notes between spaces; words of which some are notes or
 * pulls that name the notes they give, `D/C#`; a string and what it is tuned to, `9:C#3`; a scale by its root and name,
 * or by a chord.
 */
export type NotesIn = 'note' | 'key' | 'chord' | 'chords' | 'notes' | 'words' | 'string' | 'scale';

/**
 * What can stand behind the root of a chord, as far as its signs show. Which of it makes sense is for the
 * reader of chords to say; here a chord has only to be told from other words.
 */
const BEHIND_ROOT =
  /^(?:maj(?:or)?|min(?:or)?|m[ai]?|dim(?:inished)?|half-?dim(?:inished)?|aug(?:mented)?|sus|add|alt|no|omit|dom(?:inant)?|root|[hrRo]|[°ºøØΔ△∆^+\-−–#b♯♭()\d,/\s])*$/iu;
const IN_LETTERS = /^[A-G](?:bb|♭♭|𝄫|b|♭|##|♯♯|𝄪|#|♯)?(.*?)(?:\/\s*[A-G](?:bb|b|♭|##|#|♯)?\s*)?$/iu;

/** Does a word look like a chord in letters? */
function looksLikeChord(word: string): boolean {
  const behind = IN_LETTERS.exec(word)?.[1];
  return behind !== undefined && BEHIND_ROOT.test(behind);
}

/** Stands behind a chord that was typed and may be one of two: it is kept, and asked about. */
const DOUBT = '?';

/** `La m`: a syllable and the minor that stands apart from it. */
const APART = /\b(do|re|ré|mi|fa|sol|la|si)([#b♯♭]{0,2})[ \t]+(?=m(?!i)[a-z0-9]*)/giu;

/** Chords written as one word each, whatever the names of notes: `La m` is `Lam`. */
export const inWords = (text: string, names: NoteNames = typedNames()): string =>
  names === 'solfege' ? text.replace(APART, '$1$2') : text;

/**
 * One chord of a text in letters. What is no chord in these names stays as it was typed; what may be one of
 * two (a small German letter) has a `?` behind it, with which it is refused and both are offered.
 */
function chordWordInLetters(word: string, names: NoteNames = typedNames()): string {
  if (names === 'letters' || word.endsWith(DOUBT)) return word;
  const read = chordInLetters(word, names);
  if (!('letters' in read)) return looksLikeChord(read.readings[0] ?? '') ? word + DOUBT : word;
  return looksLikeChord(read.letters) || looksLikeChord(word) ? read.letters : word;
}

const asciiName = (name: NoteName, names: NoteNames): string =>
  names === 'solfege'
    ? writtenName({ ...name, alter: 0 }, names) + nameText(name).slice(1)
    : names === 'german'
      ? writtenName(name, names)
      : nameText(name);

/** A note as it is typed: `Cis4`, `Fa#`; as it is where it is none. */
function noteCalled(letters: string, names: NoteNames): string {
  const pitch = parsePitch(letters);
  const name = pitch ?? parseNoteName(letters);
  if (names === 'letters' || name === undefined) return letters;
  return asciiName(name, names) + (pitch === undefined ? '' : String(pitch.octave));
}

/** A chord or a key as it is typed: `Cism7/H`, `Mibm`; as it is where it is none. */
function chordWordCalled(letters: string, names: NoteNames = shownNames()): string {
  if (names === 'letters' || !looksLikeChord(letters)) return letters;
  return letters.replace(
    /(^|\/)([A-Ga-g](?:bb|b|##|#|♭♭|♭|♯♯|♯|𝄫|𝄪)?)/gu,
    (all, before: string, note: string) => {
      const name = parseNoteName(note);
      return name === undefined ? all : before + asciiName(name, names);
    },
  );
}

const eachWord = (text: string, put: (word: string) => string): string =>
  text.replace(/[^\s,|@]+/gu, (word, at: number) => (text[at - 1] === '@' ? word : put(word)));

/** German words for the two usual scales. */
const GERMAN_SCALES: Readonly<Record<string, string>> = { dur: 'major', moll: 'minor' };

/** `Es mixolydian`, `h-Moll`, `La minor pentatonic`; or a chord that stands for its scale. */
function scaleInLetters(text: string, names: NoteNames): string {
  const [, root = '', name = ''] = /^\s*([^\s-]+)(?:\s+|-(?=dur\b|moll\b))(.+)$/iu.exec(text) ?? [];
  const letters = noteTextInLetters(root, names);
  // `La m7` is a chord whose root stands apart
  const isScale = parseNoteName(letters) !== undefined && /^[a-zé]{3}/iu.test(name);
  if (!isScale || BEHIND_ROOT.test(name.trim()))
    return chordWordInLetters(inWords(text, names).trim(), names);
  return `${letters} ${(names === 'german' ? GERMAN_SCALES[name.trim().toLowerCase()] : undefined) ?? name}`;
}

/** A word of a line in the copedent; a half-stop and the full one are two. */
const A_WORD = /[^\s,;/]+/gu;

/** A typed text in letters. */
export function textInLetters(
  kind: NotesIn,
  text: string,
  names: NoteNames = typedNames(),
): string {
  if (names === 'letters') return text;
  const note = (word: string): string => noteTextInLetters(word, names);
  switch (kind) {
    case 'note':
      return note(text);
    case 'key':
      return keyInLetters(text, names);
    case 'notes':
      return eachWord(text, note);
    case 'chord':
      return chordWordInLetters(text, names);
    case 'chords':
      return eachWord(inWords(text, names), (word) => chordWordInLetters(word, names));
    case 'words':
      return text.replace(A_WORD, note);
    case 'string':
      return text.replace(/:\s*(.+)$/u, (_, pitch: string) => `:${note(pitch)}`);
    case 'scale':
      return scaleInLetters(text, names);
  }
}

/** A text in letters as its reader would type it. */
export function textCalled(kind: NotesIn, text: string, names: NoteNames = shownNames()): string {
  if (names === 'letters') return text;
  switch (kind) {
    case 'note':
      return noteCalled(text, names);
    case 'notes':
      return eachWord(text, (word) => noteCalled(word, names));
    case 'chord':
      return chordWordCalled(text, names);
    case 'key':
    case 'chords':
      return eachWord(text, (word) => chordWordCalled(word, names));
    case 'words':
      return text.replace(A_WORD, (word) => noteCalled(word, names));
    case 'scale':
      return text.replace(/^\s*\S+/u, (root) => chordWordCalled(root.trim(), names));
    case 'string':
      return text.replace(/:(.+)$/u, (_, pitch: string) => `:${noteCalled(pitch, names)}`);
  }
}
