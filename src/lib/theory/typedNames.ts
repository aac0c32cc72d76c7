/** What is typed in other names of notes than letters, turned into letters. */
import { SYLLABLES, germanName, prettySigns, typedNames, type NoteNames } from './noteNames';
import { parseKey } from './spelling';
import { LETTERS, nameText, parseNoteName, parsePitch, type NoteName } from './pitch';

/** Every name a note is typed by, longest first, so that `Es` goes before `E`. */
function table(names: NoteNames): readonly (readonly [string, NoteName])[] {
  const rows = new Map<string, NoteName>();
  for (const letter of LETTERS)
    for (const alter of [-2, -1, 0, 1, 2]) {
      const name = { letter, alter };
      const signs = nameText(name).slice(1);
      const base = names === 'german' ? (letter === 'B' ? 'H' : letter) : SYLLABLES[letter];
      if (names === 'german') rows.set(germanName(name), name);
      for (const each of new Set([signs, prettySigns(signs), signs.replaceAll('b', '♭')]))
        if (each !== '' || names === 'solfege') rows.set(base + each, name);
    }
  if (names === 'german') {
    rows.set('Asas', { letter: 'A', alter: -2 });
    // written so beside English letters; it can mean nothing else
    for (const flat of ['Bb', 'B♭']) rows.set(flat, { letter: 'B', alter: -1 });
  } else rows.set('Ré', { letter: 'D', alter: 0 });
  return [...rows].sort(([a], [b]) => b.length - a.length);
}

const TABLES = { german: table('german'), solfege: table('solfege') };

/** The note at the beginning of a text, and how long its name is. */
function nameAt(
  text: string,
  names: keyof typeof TABLES,
): { readonly name: NoteName; readonly length: number } | undefined {
  const lower = text.toLowerCase();
  for (const [written, name] of TABLES[names]) {
    if (!lower.startsWith(written.toLowerCase())) continue;
    // Asus4 is A with a suspension, not As
    if (names === 'german' && /s$/i.test(written) && /^us/i.test(text.slice(written.length)))
      continue;
    return { name, length: written.length };
  }
  return undefined;
}

/** What a typed text is in letters; or that it can be read in two ways, and which. */
export type InLetters =
  | { readonly letters: string }
  | { readonly says: string; readonly readings: readonly string[] };

/** A note, with or without its octave, in letters; `undefined` where it is none by these names. */
function noteInLetters(text: string, names: keyof typeof TABLES): string | undefined {
  const at = nameAt(text, names);
  const octave = at && text.slice(at.length);
  return at && octave !== undefined && /^(-?\d)?$/.test(octave)
    ? nameText(at.name) + octave
    : undefined;
}

const isLetterNote = (text: string): boolean =>
  parseNoteName(text) !== undefined || parsePitch(text) !== undefined;

/** A list of notes in letters; small letters are notes too. */
function notesInLetters(text: string, names: keyof typeof TABLES): string | undefined {
  const words = text.split(/[\s,]+/u).filter(Boolean);
  const letters = words.map((word) => noteInLetters(word, names));
  const all = words.map((word, at) => letters[at] ?? (isLetterNote(word) ? word : undefined));
  return words.length > 1 && all.every((each) => each !== undefined) ? all.join(' ') : undefined;
}

/**
 * A chord symbol, or notes, in letters. A text that these names say nothing of stays as it is: it is read,
 * or refused, as letters are. A small German letter says minor to one and nothing to another, so both are
 * offered.
 */
export function chordInLetters(text: string, names: NoteNames = typedNames()): InLetters {
  const written = text.trim();
  if (names === 'letters' || written === '') return { letters: text };
  const notes = notesInLetters(written, names);
  if (notes !== undefined) return { letters: notes };
  const root = nameAt(written, names);
  if (root === undefined) return { letters: text };
  const slash = written.lastIndexOf('/');
  const behind = slash < 0 ? '' : written.slice(slash + 1).trim();
  const bass = nameAt(behind, names);
  const isBass = bass?.length === behind.length && behind !== '';
  const rest = written.slice(root.length, isBass ? slash : undefined).trimStart();
  const end = rest + (isBass && bass ? `/${nameText(bass.name)}` : '');
  const letters = nameText(root.name) + end;
  const isSmall = names === 'german' && written.slice(0, 1) !== written.slice(0, 1).toUpperCase();
  if (!isSmall || /^(m(?!aj)|-|dim|[°oø])/i.test(rest)) return { letters };
  return {
    says: 'is minor to one and major to another, for its letter is small',
    readings: [`${nameText(root.name)}m${end}`, letters],
  };
}

/** A key in letters: `h-Moll`, `Es-Dur`, `La m`; a small German letter is a minor key. */
export function keyInLetters(text: string, names: NoteNames = typedNames()): string {
  const written = text.trim();
  if (names === 'letters') return text;
  const tonic = nameAt(written, names);
  if (tonic === undefined) return text;
  const rest = written.slice(tonic.length).trim();
  const isSmall = names === 'german' && written.slice(0, 1) !== written.slice(0, 1).toUpperCase();
  const mode = /^-?\s*moll$/i.test(rest) || (isSmall && rest === '') ? 'm' : rest;
  return nameText(tonic.name) + (/^-?\s*dur$/i.test(mode) ? '' : mode);
}

/** One note, with or without its octave, in letters; as it is where these names say nothing of it. */
export const noteTextInLetters = (text: string, names: NoteNames = typedNames()): string =>
  names === 'letters' ? text : (noteInLetters(text.trim(), names) ?? text);

/** What a text is in names of notes that are not those of here. */
export interface Otherwise {
  /** The end of a sentence that begins with the text: `is written the German way`. */
  readonly says: string;
  readonly letters: string;
}

const WAYS = [
  ['german', 'is written the German way, whose B is B♭ here'],
  ['solfege', 'is written with the syllables do, re, mi'],
] as const;

/** The first way by which a text makes sense. */
function otherwise(
  read: (names: keyof typeof TABLES) => string | undefined,
): Otherwise | undefined {
  for (const [names, says] of WAYS) {
    const letters = read(names);
    if (letters !== undefined) return { says, letters };
  }
  return undefined;
}

/** Notes that other people wrote, `C E G H` or `Do Mi Sol`: how they are written, and what they are in letters. */
export const notesOtherwise = (text: string): Otherwise | undefined =>
  otherwise((names) => notesInLetters(text.trim(), names));

/**
 * The same of notes among other words, such as the pulls of a line, by every way in which one of them is a note;
 * the rest stays as it is.
 */
export const wordsOtherwise = (text: string): Otherwise[] =>
  WAYS.flatMap(([names, says]) => {
    const letters = text.replace(/[^\s,;/]+/gu, (word) => noteInLetters(word, names) ?? word);
    return letters === text ? [] : [{ says, letters }];
  });

/** The same of one note that letters cannot read, with or without its octave: `H`, `Es4`, `Sol`. */
export const noteOtherwise = (text: string): Otherwise | undefined =>
  otherwise((names) => noteInLetters(text.trim(), names));

/** The same of a key: `Es`, `h-Moll`, `La m`. */
export const keyOtherwise = (text: string): Otherwise | undefined =>
  otherwise((names) => {
    const letters = keyInLetters(text, names);
    return parseKey(letters) === undefined ? undefined : letters;
  });
