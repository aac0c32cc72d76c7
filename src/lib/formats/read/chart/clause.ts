/** What a line of a chart speaks of: a control, or a string. */
import type { Piece } from './doubts';
import { readLabel, type Label } from './label';
import { remembered } from './memo';
import { readStationName, type StationName } from './stationName';

const nameOf = remembered(readStationName);

/** A piece of a line that begins with a control or with a string. */
export type Clause =
  | {
      readonly by: 'control';
      readonly name: StationName;
      readonly head: Piece;
      readonly rest: Piece;
    }
  | { readonly by: 'string'; readonly label: Label; readonly head: Piece; readonly rest: Piece };

const BULLET = /^[\s*•·>-]*(?=[\p{L}\d])/u;

/** The longest name of a station at a place of a text. */
export function stationAt(
  text: string,
  at: number,
): { name: StationName; length: number } | undefined {
  const words = /^(?:[\p{L}\d.#]+(?:[ -][\p{L}\d.#]+){0,5})(?: ?[([/] ?[\p{L}\d]+ ?[)\]]?)?/u.exec(
    text.slice(at, at + 80),
  )?.[0];
  if (words === undefined) return undefined;
  const ends = [...words.matchAll(/[\p{L}\d#)\].](?=[^\p{L}\d#)\].]|$)/gu)]
    .map((match) => match.index + 1)
    .reverse();
  for (const end of ends) {
    const part = words.slice(0, end).replace(/\.$/u, '');
    const name = nameOf(part);
    // behind a station and a space stands what it does, not what it is called
    // `LKL 2 -1` is about string 2, and no second lever
    if (/^(?!P).* 2$/iu.test(part)) continue;
    const isTwo = name?.station !== undefined && name.called !== undefined && !/[([/]/.test(part);
    if (name !== undefined && !isTwo) return { name, length: part.length };
  }
  return undefined;
}

/** The label at the beginning of a line: `String 4 (E4)`, `5. B .017`, `10 B`. */
function labelAt(text: string): { label: Label; length: number } | undefined {
  const match =
    /^(?:(?:string|saite|str|st)\.? ?)?#?(\d{1,2})(?:st|nd|rd|th)?(?: string)?[.):]?(?:\s+-\s+|\s*)(?:[(,]?\s*([A-Ha-h](?:isis|is|eses|es|s|##?|bb?)?-?\d?)(?![\p{L}\d])\s*[),]?)?(?:[\s,(]+(0?\.\d{2,4}[wp]?|0\d{2}[wp]?|\d{2}[wp]))?\)?/iu.exec(
      text,
    );
  const alone = /^([A-H](?:isis|is|eses|es|s|##?|bb?)?-?\d?)(?= *[:=|–-])/u.exec(text);
  const found = match ?? alone;
  if (found === null) return undefined;
  const label = readLabel(
    found[0].replace(/^(?:string|saite|str|st)\.? ?/iu, '').replace(/\s-(?=\s)/gu, ' '),
  );
  return label === undefined || (label.number === undefined && label.note === undefined)
    ? undefined
    : { label, length: found[0].length };
}

/** Words that say what is done. */
export const VERB =
  /(?:raise|lower|drop|sharp|flat|pull|hebt|senkt|erhöht|erniedrigt|\bup\b|\bdown\b)/iu;

/** `A (B to C#: 5, 10)`: what it does, in brackets behind its letter. */
const IN_BRACKETS = /^\s*\((?=[^()]*\d)(?=[^()]*(?:\bto\b|\bnach\b|[>→↑↓]|[+-]\d))[^()]+\)\s*$/u;

/** What a line is about, if it is about a control or a string. */
export function clauseOf(piece: Piece): Clause | undefined {
  const lead = BULLET.exec(piece.text)?.[0].length ?? 0;
  const body = piece.text
    .slice(lead)
    .replace(/^(?:the |my |die |der |das )/iu, (word) => ' '.repeat(word.length));
  const skipped = body.length - body.trimStart().length;
  const text = body.trimStart();
  const at = piece.at + lead + skipped;
  const station = stationAt(text, 0);
  const label = labelAt(text);
  const restOf = (length: number): Piece => {
    const rest = text.slice(length);
    const sign = /^\s*[:=|–-]?(?!\d)\s*/u.exec(rest)?.[0].length ?? 0;
    const isSign = /^\s*-{1,7}(?![\w])/u.test(rest) && !/^\s*-\s+\S/u.test(rest);
    const cut = isSign ? 0 : sign;
    return { text: rest.slice(cut), at: at + length + cut };
  };
  const head = (length: number): Piece => ({ text: text.slice(0, length), at });
  if (station !== undefined) {
    const rest = restOf(station.length);
    const { name } = station;
    // a letter alone is a control where something is said of strings, and no chord's or note's name
    const isControl =
      name.station !== undefined ||
      name.kind !== undefined ||
      name.way !== undefined ||
      VERB.test(rest.text) ||
      /^\s*[:=-]/u.test(text.slice(station.length)) ||
      IN_BRACKETS.test(text.slice(station.length));
    if (
      isControl &&
      /\d|\b[A-H](?:#|b|is|es)?\b|['’]s|(?:[Ss]trings?|Saiten?) /u.test(rest.text) &&
      !startsWithStation(rest.text)
    )
      return { by: 'control', name, head: head(station.length), rest };
  }
  if (label === undefined) return undefined;
  return { by: 'string', label: label.label, head: head(label.length), rest: restOf(label.length) };
}

const startsWithStation = (text: string): boolean =>
  stationAt(text.trimStart(), 0)?.name.station !== undefined;
