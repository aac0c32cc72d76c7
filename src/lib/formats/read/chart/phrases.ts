/** What is said of a control or of a string in a line, in whichever order its words stand. */
import { VERB, stationAt } from './clause';
import type { Piece } from './doubts';
import { readNoteWord } from './noteWord';
import { pullTokenAt, type Placed } from './pullTokens';
import type { StationName } from './stationName';

/** Strings that a phrase speaks of: their numbers, or their open note. */
export interface Group {
  readonly numbers: readonly number[];
  readonly tokens: readonly Placed[];
  /** The way that a word said before: `raises 4 and 8 to F`. */
  readonly sticky: -1 | 0 | 1;
  /** `them`: the strings that the sentence before speaks of. */
  readonly refers: boolean;
}

/** A string's number at a place: `5`, `5th`, `string 5`, but no amount. */
const NUMBER =
  /(?:(?:strings?|saiten?|str\.?|no\.?|nr\.?)\s*)?#?(\d{1,2})(?:st|nd|rd|th)?(?![\d/])(?:\s*(?:strings?|saiten?)(?!\p{L}))?/iuy;
const NUMBER_WORDS =
  'one two three four five six seven eight nine ten eleven twelve eins zwei drei vier fünf sechs sieben acht neun zehn elf zwölf'.split(
    ' ',
  );
/** `strings two and six`, but not `two semitones`. */
const NUMBER_WORD = new RegExp(
  `(?:(strings?|saiten?)\\s+)?(${NUMBER_WORDS.join('|')})(?!\\p{L}|\\s*(?:semi|half|halb|whole|ganz|full|tone|step))`,
  'iuy',
);
/** What is done to a string, right behind it. */
const SAID =
  /^\s*(?:up|down|raise[sd]?|lower(?:s|ed)?|drop(?:s|ped)?|to|a|half|whole|[+↑↓-]|hebt|senkt|um|nach|auf)(?!\p{L})/iu;
/** A number before it counts tones: `2 half steps`; `9 half` is about string 9. */
const UNIT =
  /^\s*(?:semi|(?:half|whole|full)[ -]?(?:tone|step)|halb[ -]?t|ganz[ -]?t|tones?\b|steps?\b|st\b|½)/iu;
const LABELLED =
  /^[A-H](?:is|es|s|#|b)?(?:['’]s| strings?| saiten?)?\s*\(((?:\d{1,2}(?:\s*[,&]\s*|\s*and\s*|\s*und\s*)?){1,14})\)/u;
const WORDS =
  /(?:and|und|both|beide|also|auch|the|on|by|um|von|from|a|an|of|strings?|saiten?|with|mit|is|are|pulls?|moves?|takes?|bringt|zieht|die|der|den|das|at|bei|note|it|its|high|low|respectively)(?!\p{L})/iuy;

/** A word that only joins, at least as long as the pull that could be read there; `A` is a pedal. */
function joiningWordAt(text: string, at: number, pullLength: number): string | undefined {
  WORDS.lastIndex = at;
  const word = WORDS.exec(text)?.[0];
  return word === undefined || word === 'A' || word.length < pullLength ? undefined : word;
}

interface Groups {
  readonly groups: readonly Group[];
  /** Words that are no part of a pull, and strings of which nothing is said. */
  readonly unread: readonly Piece[];
}

/** A word that nothing is known of, or a sign. */
const skippedAt = (text: string, at: number): string =>
  /^[\p{L}\p{N}]+|^./u.exec(text.slice(at))?.[0] ?? ' ';
const isInk = (text: string): boolean => /[\p{L}\p{N}?!]/u.test(text);

/** The groups of a control's phrase: strings with what is done to them, in whichever order they stand. */
export function groupsIn(rest: Piece, way: -1 | 0 | 1): Groups {
  const { text } = rest;
  const groups: Group[] = [];
  let numbers: number[] = [];
  let tokens: Placed[] = [];
  let sticky = way;
  let amountsFirst: boolean | undefined;
  const unread: Piece[] = [];
  const leave = (from: number, to: number): void => {
    unread.push({ text: text.slice(from, to), at: rest.at + from });
  };
  let by = false;
  let numbersFrom = 0;
  let numbersTo = 0;
  let refers = false;
  const hasAmount = (): boolean =>
    tokens.some(
      ({ token }) =>
        token.kind === 'amount' ||
        (token.kind === 'note' && !token.isPlural) ||
        (token.kind === 'way' && token.arrows > 0),
    );
  const flush = (): void => {
    if (hasAmount()) groups.push({ numbers, tokens, sticky, refers });
    else if (numbers.length > 0) leave(numbersFrom, numbersTo);
    refers = false;
    numbers = [];
    tokens = [];
  };
  const said = VERB.test(text);
  for (let at = 0; at < text.length;) {
    if (/[\s:.]/u.test(text.charAt(at))) {
      at++;
      continue;
    }
    NUMBER_WORD.lastIndex = at;
    const worded = NUMBER_WORD.exec(text);
    const wordAt = NUMBER_WORDS.indexOf((worded?.[2] ?? '').toLowerCase()) % 12;
    if (worded !== null && (worded[1] ?? (numbers.length > 0 && !hasAmount()))) {
      if (hasAmount()) {
        amountsFirst ??= numbers.length === 0;
        if (!amountsFirst) flush();
      }
      if (numbers.length === 0) numbersFrom = at;
      numbers.push(wordAt + 1);
      at += worded[0].length;
      numbersTo = at;
      continue;
    }
    // `high E (2) up to F`: the note is the open one, and says no more than the number
    const labelled = LABELLED.exec(text.slice(at));
    if (labelled !== null && SAID.test(text.slice(at + labelled[0].length))) {
      if (hasAmount()) flush();
      numbersFrom = at;
      numbers.push(...(labelled[1]?.match(/\d+/gu) ?? []).map(Number));
      amountsFirst = false;
      at += labelled[0].length;
      numbersTo = at;
      continue;
    }
    NUMBER.lastIndex = at;
    const number = NUMBER.exec(text);
    const value = Number(number?.[1]);
    const behind = number === null ? '' : text.slice(at + number[0].length);
    const isFraction = /^\s*(?:½|1\/2)/u.test(behind) || /^\d*\s*1\/2/u.test(text.slice(at));
    const isString =
      number !== null && !isFraction && !UNIT.test(behind) && !by && value >= 1 && value <= 14;
    by = false;
    if (isString) {
      if (hasAmount()) {
        amountsFirst ??= numbers.length === 0;
        // `half up on 9, string 2 down a half`: from there on the string comes first
        const isAnew =
          numbers.length > 0 &&
          /[,;]\s*(?:and |und )?$/u.test(text.slice(0, at)) &&
          SAID.test(behind);
        if (isAnew && /^[a-z]/iu.test(number[0])) amountsFirst = false;
        if (!amountsFirst) flush();
      }
      if (numbers.length === 0) numbersFrom = at;
      numbers.push(value);
      at += number[0].length;
      numbersTo = at;
      continue;
    }
    // `4+8` is two strings where a word says what is done to them
    if (said && numbers.length > 0 && !hasAmount() && /^[+&]\s*\d/u.test(text.slice(at))) {
      at++;
      continue;
    }
    const them = /^(?:them|those|these|the same|sie|diese|dieselben)(?!\p{L})/iu.exec(
      text.slice(at),
    );
    if (them !== null) {
      refers = true;
      at += them[0].length;
      continue;
    }
    const placed = pullTokenAt(text, at);
    const word = joiningWordAt(text, at, placed?.length ?? 0);
    if (word !== undefined) {
      by = /^(?:by|um)$/iu.test(word);
      at += word.length;
      continue;
    }
    if (placed === undefined) {
      const skip = skippedAt(text, at);
      if (isInk(skip)) leave(at, at + skip.length);
      at += skip.length;
      continue;
    }
    const { token } = placed;
    if (token.kind === 'way' && token.arrows === 0 && !token.letter) {
      // a verb begins anew; behind an amount it says which way that goes
      const isVerb = /^(?:rais|low|drop|sharp|flat|heb|senk|erh|ern)/iu.test(text.slice(at));
      if (hasAmount() && isVerb && (numbers.length > 0 || tokens.length > 1)) flush();
      if (isVerb || !hasAmount()) sticky = token.sign;
      else tokens.push(placed);
      by = !isVerb && !hasAmount();
    } else if (token.kind === 'way') {
      // `2↑↑ 6↑↑`: behind a string the arrows say all, if no number hangs on them
      by = numbers.length === 0 || /^\d/u.test(text.slice(at + placed.length));
      tokens.push(placed);
    } else if (token.kind === 'open' && numbers.length > 0 && !hasAmount()) {
      // `2 (1)`: what stands in brackets behind a string is done to it
      by = true;
    } else if (token.kind === 'then' && !hasAmount()) {
      // a list of strings goes on
    } else if (
      amountsFirst === true &&
      numbers.length > 0 &&
      (token.kind === 'amount' || token.kind === 'note')
    ) {
      flush();
      tokens.push(placed);
    } else tokens.push(placed);
    at += placed.length;
  }
  flush();
  return { groups, unread };
}

/** A control of a string's line, with what is said of it. */
export interface Item {
  readonly name: StationName;
  readonly head: Piece;
  readonly tokens: Placed[];
}

interface Items {
  readonly items: readonly Item[];
  readonly unread: readonly Piece[];
}

/** `5 B: A +2, C +2`: the controls of a string, each with what it does. */
export function itemsIn(rest: Piece): Items {
  const { text } = rest;
  const items: Item[] = [];
  let waiting: Placed[] = [];
  const unread: Piece[] = [];
  const leave = (from: number, to: number): void => {
    unread.push({ text: text.slice(from, to), at: rest.at + from });
  };
  for (let at = 0; at < text.length;) {
    if (/[\s:.,;|]/u.test(text.charAt(at))) {
      at++;
      continue;
    }
    const station = stationAt(text, at);
    const here = items.at(-1);
    // a letter is a control where one is wanted, else a note
    const wanted = here === undefined || here.tokens.length > 0 || waiting.length > 0;
    const isNote = readNoteWord(text.slice(at, at + (station?.length ?? 0))) !== undefined;
    const behind = text.slice(at + (station?.length ?? 0));
    const isNext = here === undefined || /[,;]\s*$/u.test(text.slice(0, at));
    const bySign =
      (isNext && /^\s+(?:[A-H](?:is|es|s|#|b)?|[RL] ?\d)(?!\p{L})/u.test(behind)) ||
      /^\s*[:=]|^\s*[+-]?\d|^\s*[+↑↓-]|^\s+(?:to|raises?|lowers?|up|down)\b/u.test(behind);
    if (
      station !== undefined &&
      (station.name.station !== undefined ||
        station.name.kind !== undefined ||
        (wanted && (!isNote || bySign || here === undefined)))
    ) {
      items.push({
        name: station.name,
        head: { text: text.slice(at, at + station.length), at: rest.at + at },
        tokens: waiting,
      });
      waiting = [];
      at += station.length;
      continue;
    }
    const placed = pullTokenAt(text, at);
    const word = joiningWordAt(text, at, placed?.length ?? 0);
    if (word !== undefined) {
      at += word.length;
      continue;
    }
    if (placed === undefined) {
      const skip = skippedAt(text, at);
      if (isInk(skip)) leave(at, at + skip.length);
      at += skip.length;
      continue;
    }
    if (here === undefined) waiting.push(placed);
    else here.tokens.push(placed);
    at += placed.length;
  }
  // an amount of no control, and a control of which nothing is said
  for (const { at, length, token } of waiting)
    if (token.kind === 'amount' || token.kind === 'note') leave(at, at + length);
  for (const { head, tokens } of items) if (tokens.length === 0) unread.push(head);
  return { items: items.filter(({ tokens }) => tokens.length > 0), unread };
}
