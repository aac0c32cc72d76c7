/**
 * Reads chord symbols as people write them, and marks the place where it cannot.
 *
 * A symbol is a root, then parts in any sensible order, then perhaps a slash and a bass note.
 * Where a writing is ambiguous:
 * - sharps and flats after the letter belong to the root: `Cb9` is a ninth on C flat, `Bbb` is
 *   B double flat; the altered tone is written `C(b9)`;
 * - `C2` is `Cadd9` and `C4` is `Csus4`, `sus` is `sus4`, `C^` is a major triad but `CΔ` a major
 *   seventh, `7alt` leaves the choice of altered fifth and ninth;
 * - a small letter is the same root as a capital one, and says nothing about minor.
 */
import { refuse, ok, type Result } from '$lib/result';
import { alteredChord, isPlainAltered } from './alteredChord';
import { chordOf, type Chord } from './chord';
import { degreesOf, newDraft } from './chordDraft';
import { TOKENS, type Position } from './chordTokens';
import { prettySymbol } from './display';
import { otherNotation, type OtherNotation } from './otherNotations';
import { parseNoteName, type NoteName } from './pitch';
import type { Key } from './spelling';

/** What could not be read: the piece of the text, and what could have stood there. */
export interface ChordFault {
  readonly text: string;
  /** Index into `text` in UTF-16 units, from 0. */
  readonly at: number;
  readonly length: number;
  /** The piece itself; empty where something is missing at the end. */
  readonly found: string;
  readonly allowed: string;
  /** Where the text looks like another notation: that it does, and what it likely means here. */
  readonly other?: OtherNotation & { readonly isChordToo: boolean };
}

const ROOT = /([A-Ga-g])(bb|♭♭|𝄫|b|♭|##|♯♯|𝄪|#|♯)?/uy;
const BASS = /\s*\/\s*([A-Ga-g](?:bb|♭♭|𝄫|b|♭|##|♯♯|𝄪|#|♯)?)\s*$/u;
const NO_CHORD = /^n\.?\s?c\.?$/iu;

/** Characters of the longest symbol that is looked at. */
const LONGEST = 100;
const SHORTER = `a chord symbol has at most ${String(LONGEST)} characters`;
const A_ROOT = 'a chord begins with a letter from A to G';
const A_PART = 'after the root come parts such as m, 7, maj7, sus4, add9, b5, (#9) or /E';
const CLOSING = 'a bracket that opens has to close';
const OPENING = 'a bracket that closes has to open before';

function fault(text: string, at: number, allowed: string, length?: number): ChordFault {
  const found = length === undefined ? text.slice(at).trimEnd() : text.slice(at, at + length);
  return { text, at, length: found.length, found, allowed };
}

/** `is a degree of a key, here of C, and may mean D7`: what a text in another notation likely means. */
export const chordMeant = ({ says, readings }: OtherNotation): string =>
  `${says}, and may mean ${readings.map((each) => prettySymbol(each)).join(' or ')}`;

/** One sentence about a fault, for people. */
export function chordFaultText(fault: ChordFault): string {
  if (fault.text.trim() === '') return `There is no chord to read: ${fault.allowed}.`;
  const piece = `“${fault.found}” at place ${String(fault.at + 1)}`;
  const within = fault.found === fault.text.trim() ? '' : `“${fault.text}”: `;
  const plain = `${within}${piece} is not understood; ${fault.allowed}.`;
  if (!fault.other) return plain;
  const { says, readings, isChordToo } = fault.other;
  const meant = `Did you mean ${readings.map((each) => prettySymbol(each)).join(' or ')}?`;
  return isChordToo ? `“${fault.text.trim()}” ${says}. ${meant}` : `${plain} It ${says}. ${meant}`;
}

function take(pattern: RegExp, text: string, at: number): RegExpExecArray | undefined {
  pattern.lastIndex = at;
  return pattern.exec(text) ?? undefined;
}

/** Where the suffix ends, and the bass note if one follows. */
function bassAtEnd(text: string): { end: number; bass?: NoteName } {
  const match = BASS.exec(text);
  const bass = match && parseNoteName(match[1] ?? '');
  return match && bass ? { end: match.index, bass } : { end: text.length };
}

interface Suffix {
  readonly degrees: readonly string[];
  /** `7alt` and nothing else. */
  readonly isAltered: boolean;
}

/** Reads the parts between root and bass into degrees. */
function readSuffix(text: string, start: number, end: number): Result<Suffix, ChordFault> {
  const body = text.slice(0, end);
  const draft = newDraft();
  const open: number[] = [];
  let at = start;
  let first = true;
  let separated: number | undefined;
  while (at < end) {
    const sign = body[at] ?? '';
    if (/[\s,/]/u.test(sign)) {
      if (!/\s/u.test(sign)) separated = at;
      at++;
    } else if (sign === '(') {
      open.push(at++);
    } else if (sign === ')') {
      if (open.pop() === undefined) return refuse(fault(text, at, OPENING, 1));
      at++;
      separated = undefined;
    } else {
      const position: Position = { first, aside: separated !== undefined || open.length > 0 };
      const length = readPart(body, at, position);
      if (length === 0) return refuse(fault(text, at, A_PART));
      at += length;
      first = false;
      separated = undefined;
    }
  }
  const unclosed = open.pop();
  if (unclosed !== undefined) return refuse(fault(text, unclosed, CLOSING, 1));
  if (separated !== undefined) return refuse(fault(text, separated, A_PART, 1));
  const degrees = degreesOf(draft);
  if (degrees.length < 2) return refuse(fault(text, start, 'two tones have to be left'));
  return ok({ degrees, isAltered: draft.leavesChoice && isPlainAltered(degrees) });

  function readPart(from: string, index: number, position: Position): number {
    for (const { pattern, apply } of TOKENS) {
      const match = take(pattern, from, index);
      if (match && apply(draft, match, position)) return match[0].length;
    }
    return 0;
  }
}

/**
 * Written like a chord here, but as likely the syllable: `Do7` is D°7 to one and C7 to the other, and
 * neither is taken without asking.
 */
const TRAP = /^\s*do/iu;

/**
 * Reads a chord symbol, or `N.C.`; a text that is neither is refused with the place marked, and one in
 * another notation with what it likely means (degrees count from `key`, C where none is given).
 */
export function readChord(text: string, key?: Key): Result<Chord | 'no chord', ChordFault> {
  if (text.length > LONGEST) return refuse(fault(text, LONGEST, SHORTER));
  if (NO_CHORD.test(text.trim())) return ok('no chord');
  const read = readSymbol(text);
  if (read.ok && !TRAP.test(text)) return read;
  const other = otherNotation(text, key);
  const readings = [...new Set(other?.readings)].filter((reading) => readSymbol(reading).ok);
  if (other === undefined || readings.length === 0) return read;
  const own = read.ok ? fault(text, text.length - text.trimStart().length, A_ROOT) : read.error;
  return refuse({
    ...own,
    other: { ...other, readings, isChordToo: read.ok || other.isDoubt === true },
  });
}

/** The same, and where a key is set a degree of it that says one thing: `V7`, `ii`, `4`, `6-`. */
export function readChordInKey(text: string, key?: Key): Result<Chord | 'no chord', ChordFault> {
  const read = readChord(text, key);
  const other = key === undefined || read.ok ? undefined : read.error.other;
  const [only, ...more] = other?.isDegree ? other.readings : [];
  return only === undefined || more.length > 0 ? read : readSymbol(only);
}

/** Reads a chord symbol in this notation. */
function readSymbol(text: string): Result<Chord, ChordFault> {
  const start = text.length - text.trimStart().length;
  const match = take(ROOT, text, start);
  const root = match && parseNoteName(match[0]);
  if (!match || !root) return refuse(fault(text, start === text.length ? 0 : start, A_ROOT));
  const { end, bass } = bassAtEnd(text);
  const suffix = readSuffix(text, start + match[0].length, Math.max(end, start));
  if (!suffix.ok) return suffix;
  const { degrees, isAltered } = suffix.value;
  return ok(isAltered ? alteredChord(root, bass) : chordOf(root, degrees, bass));
}
