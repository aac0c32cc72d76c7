/**
 * Chords in other notations than this one: German note names, solfège, degrees in Roman numerals or
 * numbers. The same letters may mean another chord here, so what they most likely mean is said, and
 * nothing is taken without asking; but a degree that says one thing is read where a key is set.
 */
import { degreeName } from './degrees';
import { SYLLABLES } from './noteNames';
import { nameText, noteName, parseNoteName, type NoteName } from './pitch';
import { keyText, type Key } from './spelling';

export interface OtherNotation {
  /** The end of a sentence that begins with the text: `is written the German way`. */
  readonly says: string;
  /** What it likely means, most likely first; the caller drops what is no chord. */
  readonly readings: readonly string[];
  /** It counts from a key, and is read where one is set. */
  readonly isDegree?: true;
  /** It was typed in other names of notes, where it is one chord to one and another to another. */
  readonly isDoubt?: true;
}

const C_MAJOR: Key = { tonic: noteName('C', 0), mode: 'major' };

const asciiSigns = (signs: string): string => signs.replaceAll('♭', 'b').replaceAll('♯', '#');

const GERMAN_ENDINGS: Readonly<Record<string, string>> = {
  isis: '##',
  is: '#',
  eses: 'bb',
  es: 'b',
  s: 'b',
  '': '',
};
interface GermanRoot {
  /** In letters. */
  readonly root: string;
  readonly rest: string;
  readonly isH: boolean;
  readonly isSmall: boolean;
  /** Nothing of it says that it is German. */
  readonly isPlain: boolean;
}

/** A German note, and what stands behind it: H is B, `is` raises, `es` lowers. */
function germanRoot(text: string): GermanRoot | undefined {
  const match = /^([A-Ha-h])(isis|eses|is|es|s(?!us))?(.*)$/u.exec(text);
  const [, letter = '', ending = '', rest = ''] = match ?? [];
  const isH = letter.toUpperCase() === 'H';
  if (match === null || (ending === 's' && !/[AEae]/.test(letter))) return undefined;
  return {
    root: (isH ? 'B' : letter.toUpperCase()) + (GERMAN_ENDINGS[ending] ?? ''),
    rest,
    isH,
    isSmall: letter === letter.toLowerCase(),
    isPlain: !isH && ending === '',
  };
}

/** A German note in letters, where B alone is B flat. */
const germanLetters = ({ root, isH }: GermanRoot): string => (root === 'B' && !isH ? 'Bb' : root);

/** `H7`, `Es`, `fis`; a small letter says minor. */
function german(text: string): OtherNotation | undefined {
  const read = germanRoot(text);
  if (read === undefined || read.isPlain) return undefined;
  const { root, rest, isH, isSmall } = read;
  const minor = isSmall && !/^m(?!aj)/.test(rest) ? [`${root}m${rest}`] : [];
  const flat = isH ? ', whose B is B♭ here' : '';
  return { says: `is written the German way${flat}`, readings: [...minor, root + rest] };
}

/** Letters by their syllables in small letters. */
const LETTER_OF: Readonly<Record<string, string>> = {
  ré: 'D',
  ...Object.fromEntries(
    Object.entries(SYLLABLES).map(([letter, each]) => [each.toLowerCase(), letter]),
  ),
};

/** `Do`, `La m`, `Si♭7`; where the letters are a chord here too (`Do` is D diminished) that is offered last. */
function solfege(text: string): OtherNotation | undefined {
  const match = /^(do|re|ré|mi|fa|sol|la|si)\s*(.*)$/iu.exec(text);
  const root = LETTER_OF[(match?.[1] ?? '').toLowerCase()];
  if (match === null || root === undefined) return undefined;
  const rest = match[2] ?? '';
  const own = /^do(?!m)/iu.test(text) ? [`Ddim${rest}`] : [];
  return {
    says: 'is written with the syllables do, re, mi',
    readings: [root + asciiSigns(rest), ...own],
  };
}

const DIMINISHED = /^(dim|[°oøØ])/u;
const NUMERALS = ['I', 'II', 'III', 'IV', 'V', 'VI', 'VII'];
/** Scale degrees as degrees over the tonic. */
const SCALES = {
  major: ['1', '2', '3', '4', '5', '6', '7'],
  minor: ['1', '2', 'b3', '4', '5', 'b6', 'b7'],
} as const;
/** Triads of the major scale that are not major. */
const QUALITIES: Readonly<Record<number, string>> = { 2: 'm', 3: 'm', 6: 'm', 7: 'dim' };

function rootOf(number: number, signs: string, key: Key): NoteName | undefined {
  const name = degreeName(key.tonic, SCALES[key.mode][number - 1] ?? '1');
  return parseNoteName(
    nameText({ ...name, alter: name.alter + (signs === 'b' ? -1 : signs === '#' ? 1 : 0) }),
  );
}

const inKey = (key: Key): string => `, here of ${keyText(key).replace('b', '♭').replace('#', '♯')}`;

/** `V7/ii`: the degree of another degree, which is a key for the moment. */
function secondary(text: string, key: Key): OtherNotation | undefined {
  const [, degree = '', signs = '', numeral = ''] =
    /^(.+)\/([b#♭♯]?)(VII|VI|IV|V|III|II|I|vii|vi|iv|v|iii|ii|i)$/u.exec(text) ?? [];
  const tonic =
    numeral && rootOf(NUMERALS.indexOf(numeral.toUpperCase()) + 1, asciiSigns(signs), key);
  if (!tonic) return undefined;
  const mode = numeral === numeral.toLowerCase() ? 'minor' : 'major';
  const found = roman(degree, { tonic, mode });
  return found && { ...found, says: `is a degree of a key${inKey(key)}` };
}

/** `V7`, `♭VII`, `ii`, `vii°`: small letters say minor. */
function roman(text: string, key: Key): OtherNotation | undefined {
  const match = /^([b#♭♯]?)(VII|VI|IV|V|III|II|I|vii|vi|iv|v|iii|ii|i)(.*)$/u.exec(text);
  if (match === null) return undefined;
  const [, signs = '', numeral = '', rest = ''] = match;
  const number = NUMERALS.indexOf(numeral.toUpperCase()) + 1;
  // the diminished chord on the seventh degree stands on the leading note, in minor too
  const isLeading = key.mode === 'minor' && number === 7 && signs === '' && DIMINISHED.test(rest);
  const root = rootOf(number, isLeading ? '#' : asciiSigns(signs), key);
  if (root === undefined) return undefined;
  const isMinor = numeral === numeral.toLowerCase() && !/^(m(?!aj)|dim|[o°øØ])/.test(rest);
  return {
    isDegree: true,
    says: `is a degree of a key${inKey(key)}`,
    readings: [nameText(root) + (isMinor ? 'm' : '') + rest],
  };
}

/** `1`, `6-`, `♭7`, `5/7`: degrees in numbers. A small `b` and a number is a chord on B. */
function numbered(text: string, key: Key): OtherNotation | undefined {
  const match = /^([#♭♯]?)([1-7])(.*?)(?:\/([b#♭♯]?)([1-7]))?$/u.exec(text);
  if (match === null) return undefined;
  const [, signs = '', digit = '', rest = '', bassSigns = '', bassDigit] = match;
  const root = rootOf(Number(digit), asciiSigns(signs), key);
  const bass =
    bassDigit === undefined ? undefined : rootOf(Number(bassDigit), asciiSigns(bassSigns), key);
  if (root === undefined) return undefined;
  const slash = bass === undefined ? '' : `/${nameText(bass)}`;
  const said = nameText(root) + rest + slash;
  const usual =
    rest === '' && signs === '' && key.mode === 'major' ? QUALITIES[Number(digit)] : undefined;
  return {
    isDegree: true,
    says: `is a degree of a key${inKey(key)}`,
    readings: [...(usual === undefined ? [] : [nameText(root) + usual + slash]), said],
  };
}

/** `a?`: a small German letter, kept as it was typed with a question behind it. */
function inDoubt(text: string): OtherNotation | undefined {
  const read = text.endsWith('?') ? germanRoot(text.slice(0, -1)) : undefined;
  if (read === undefined || !read.isSmall) return undefined;
  const [chord = '', bass] = read.rest.split('/');
  const under = bass === undefined ? undefined : germanRoot(bass);
  const end = chord + (under === undefined ? '' : `/${germanLetters(under)}`);
  const root = germanLetters(read);
  return {
    says: 'is minor to one and major to another, for its letter is small',
    readings: [`${root}m${end}`, root + end],
    isDoubt: true,
  };
}

/** What a text is in another notation, if it looks like one; degrees count from a key, C where none is set. */
export function otherNotation(text: string, key: Key = C_MAJOR): OtherNotation | undefined {
  const typed = text.trim();
  return (
    inDoubt(typed) ??
    german(typed) ??
    solfege(typed) ??
    secondary(typed, key) ??
    roman(typed, key) ??
    numbered(typed, key)
  );
}
