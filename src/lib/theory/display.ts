/**
 * Notes and chord symbols as people see them (♯ ♭), called as the reader asks (`callNotes`), and as a screen
 * reader says them. Everywhere else they are in plain letters.
 */
import type { Chord } from './chord';
import { SYLLABLES, prettySigns, shownNames, writtenName, type NoteNames } from './noteNames';
import { nameText, parseNoteName, type NoteName, type Pitch } from './pitch';

const SPOKEN_SIGNS: Readonly<Record<string, string>> = {
  '#': ' sharp',
  '##': ' double sharp',
  b: ' flat',
  bb: ' double flat',
};

/** `B♭`, `F𝄪`; in other names of notes `B`, `Fisis`, or `Si♭`, `Fa𝄪`. */
export const prettyName = (name: NoteName, names: NoteNames = shownNames()): string =>
  writtenName(name, names);

/** `B♭3`. */
export const prettyPitch = (pitch: Pitch, names?: NoteNames): string =>
  `${prettyName(pitch, names)}${pitch.octave}`;

/** A canonical symbol with real signs: `C#m7b5/Gb` becomes `C♯m7♭5/G♭`, or `Cism7♭5/Ges`. */
export function prettySymbol(symbol: string, names: NoteNames = shownNames()): string {
  return symbol
    .replace(/(^|\/|\s)([A-G](?:bb|b|##|#)?)/g, (written, before: string, note: string) => {
      const name = parseNoteName(note);
      return name === undefined ? written : before + writtenName(name, names);
    })
    .replace(/(bb|b|#)(?=\d)/g, (signs) => prettySigns(signs));
}

/** A sentence whose notes are in plain letters, with real signs: `C#4, as` becomes `C♯4, as`; what it quotes stays. */
export const prettyNotes = (sentence: string): string =>
  sentence.replace(/“[^”]*”|(?<![\p{L}\d])[A-G](?:##?|bb?)(?![\p{L}#])/gu, (found) =>
    found.startsWith('“') ? found : found.charAt(0) + prettySigns(found.slice(1)),
  );

const SIGN_WORDS: readonly (readonly [string, string])[] = [
  ['𝄪', ' double sharp '],
  ['𝄫', ' double flat '],
  ['♯', ' sharp '],
  ['♭', ' flat '],
];

/** A pretty text as it is read aloud: `C♯m7♭5` becomes `C sharp m7 flat 5`. */
export const signsInWords = (text: string): string =>
  SIGN_WORDS.reduce((said, [sign, words]) => said.replaceAll(sign, words), text)
    .replace(/ +/gu, ' ')
    .trim();

/** `B flat`, `F double sharp`; `Fisis`; `Fa double sharp`. */
export function spokenName(name: NoteName, names: NoteNames = shownNames()): string {
  if (names === 'german') return writtenName(name, names);
  const letter = names === 'solfege' ? SYLLABLES[name.letter] : name.letter;
  return letter + (SPOKEN_SIGNS[nameText(name).slice(1)] ?? '');
}

/** `B flat 3`. */
export const spokenPitch = (pitch: Pitch, names?: NoteNames): string =>
  `${spokenName(pitch, names)} ${pitch.octave}`;

/** How a suffix begins, longest writings first. */
const HEADS: readonly (readonly [string, string])[] = [
  ['dim7', 'diminished seventh'],
  ['dim(maj7)', 'diminished major seventh'],
  ['dim', 'diminished'],
  ['aug', 'augmented'],
  ['maj13', 'major thirteenth'],
  ['maj11', 'major eleventh'],
  ['maj9', 'major ninth'],
  ['maj7', 'major seventh'],
  ['m(maj9)', 'minor major ninth'],
  ['m(maj7)', 'minor major seventh'],
  ['m7b5', 'half-diminished seventh'],
  ['m13', 'minor thirteenth'],
  ['m11', 'minor eleventh'],
  ['m9', 'minor ninth'],
  ['m7', 'minor seventh'],
  ['m6/9', 'minor six nine'],
  ['m6', 'minor sixth'],
  ['m', 'minor'],
  ['13', 'dominant thirteenth'],
  ['11', 'dominant eleventh'],
  ['9', 'dominant ninth'],
  ['7', 'dominant seventh'],
  ['6/9', 'six nine'],
  ['6', 'sixth'],
  ['5', 'power chord'],
  ['sus2/4', 'suspended second and fourth'],
  ['sus2', 'suspended second'],
  ['sus4', 'suspended fourth'],
  ['', 'major'],
];

const ORDINALS: Readonly<Record<string, string>> = {
  '1': 'root',
  '2': 'second',
  '3': 'third',
  '4': 'fourth',
  '5': 'fifth',
  '6': 'sixth',
  '7': 'seventh',
  '9': 'ninth',
  '11': 'eleventh',
  '13': 'thirteenth',
};
const CARDINALS: Readonly<Record<string, string>> = {
  '5': 'five',
  '6': 'six',
  '9': 'nine',
  '11': 'eleven',
  '13': 'thirteen',
};

function spokenPart(match: RegExpMatchArray): string {
  const [, verb = '', signs = '', number = ''] = match;
  const sign = signs === 'maj' ? 'major ' : signs === '' ? '' : `${SPOKEN_SIGNS[signs] ?? ''} `;
  const ordinal = ORDINALS[number] ?? number;
  if (verb === 'add') return `added ${sign.trimStart()}${ordinal}`;
  if (verb === 'no') return `without ${sign.trimStart()}${ordinal}`;
  if (verb === 'sus') return `suspended ${ordinal}`;
  return `${sign.trimStart()}${CARDINALS[number] ?? number}`;
}

/** A canonical suffix in words: `m7` is `minor seventh`, `7b9` `dominant seventh flat nine`. */
export function spokenType(suffix: string): string {
  if (suffix === '7alt') return 'altered dominant seventh';
  const head = HEADS.find(([start]) => suffix.startsWith(start)) ?? ['', 'major'];
  const rest = suffix.slice(head[0].length);
  const parts = [...rest.matchAll(/(add|no|sus)?(bb|b|#|maj)?(\d+)/g)].map(spokenPart);
  return [head[1], ...parts].join(' ');
}

/** A canonical suffix as a table names the type: `m7♭5`; the two plainest in words, `major`, `minor`. */
export const typeName = (suffix: string): string =>
  suffix === '' ? 'major' : suffix === 'm' ? 'minor' : prettySymbol(suffix);

/** A chord, or the name of a sound, in words: `C sharp minor seventh over E`. */
export function spokenSymbol(
  chord: Pick<Chord, 'root' | 'type' | 'bass' | 'symbol'>,
  names?: NoteNames,
): string {
  const words = `${spokenName(chord.root, names)} ${spokenType(chord.type)}`;
  // A name of a sound always has its bass; it is said where the symbol shows it.
  const shown = chord.bass && chord.symbol.endsWith(`/${nameText(chord.bass)}`);
  return shown && chord.bass ? `${words} over ${spokenName(chord.bass, names)}` : words;
}
