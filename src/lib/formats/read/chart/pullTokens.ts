/**
 * What pulls are written with, in cells and in sentences, English or German: amounts, directions, notes,
 * and what stands between two stops.
 */
import { readNoteWord, type NoteWord } from './noteWord';

export type PullToken =
  /** Semitones, with the sign that it carries, if any; `isCount` where it is a bare number. */
  | { readonly kind: 'amount'; readonly size: number; readonly sign: -1 | 0 | 1; readonly how: How }
  | {
      readonly kind: 'way';
      readonly sign: -1 | 1;
      readonly arrows: number;
      readonly letter: boolean;
    }
  | { readonly kind: 'note'; readonly note: NoteWord; readonly isPlural: boolean }
  | { readonly kind: 'to' }
  | { readonly kind: 'then' }
  | { readonly kind: 'half' }
  | { readonly kind: 'open' }
  | { readonly kind: 'close' };

/** How an amount is written: a bare number, a fraction of a tone, marks (`++`), a word, a number with its unit. */
export type How = 'number' | 'fraction' | 'marks' | 'word';

export interface Placed {
  readonly token: PullToken;
  readonly at: number;
  readonly length: number;
}

type Make = (match: RegExpExecArray) => PullToken | undefined;

const amount = (size: number, how: How, sign: string | undefined = ''): PullToken => ({
  kind: 'amount',
  size,
  sign: sign === '-' ? -1 : sign === '+' ? 1 : 0,
  how,
});
const way = (sign: -1 | 1, arrows = 0, letter = false): PullToken => ({
  kind: 'way',
  sign,
  arrows,
  letter,
});

const COUNTS: Readonly<Record<string, number>> = {
  a: 1,
  an: 1,
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  ein: 1,
  eine: 1,
  einen: 1,
  zwei: 2,
  drei: 3,
  vier: 4,
};
const countOf = (text: string): number => COUNTS[text.toLowerCase()] ?? Number(text);

const COUNT = '(\\d+|an?|one|two|three|four|eine?n?|zwei|drei|vier)';
const SEMITONES = '(?:semi-?tones?|half[ -]?(?:tones?|steps?)|halbt(?:on|öne|önen)|st\\b)';
const TONES = '(?:(?:whole[ -]?|full[ -]?)?(?:tones?|steps?)|ganzt(?:on|öne|önen)|töne?n?|ton\\b)';

const RULES: readonly (readonly [RegExp, Make])[] = [
  // `-2 (half: -1)`
  [/half(?: ?[:=] ?(?=[+-]?[\d½])| (?=[+-][\d½]))/iuy, () => ({ kind: 'half' })],
  [
    /half[ -]?stops?(?: at)?|halb-?stopp?s?|raststufen?|feel[ -]?stops?|(?:with )?(?:a )?stops? at(?!\p{L})/iuy,
    () => ({ kind: 'half' }),
  ],
  // tones and semitones in words
  [
    /(?:a |one |einen? )?(?:(?:whole|full) (?:tone|step) and a half|one and a half (?:tones|steps)|anderthalb töne|minor thirds?|kleine terz)/iuy,
    () => amount(3, 'word'),
  ],
  [
    new RegExp(`([+-]?)(?:(\\d+) ?)?(?:½|1/2)[ -]?(?:${TONES})`, 'iuy'),
    (m) => amount(2 * Number(m[2] ?? 0) + 1, 'word', m[1]),
  ],
  [
    new RegExp(`([+-]?)${COUNT} ?${SEMITONES}`, 'iuy'),
    (m) => amount(countOf(m[2] ?? ''), 'word', m[1]),
  ],
  [
    new RegExp(`([+-]?)${COUNT} ?${TONES}`, 'iuy'),
    (m) => amount(2 * countOf(m[2] ?? ''), 'word', m[1]),
  ],
  [
    /(?:a |einen )?(?:half[ -]?(?:tones?|steps?)|semi-?tones?|halbt(?:on|öne))(?!\p{L})/iuy,
    () => amount(1, 'word'),
  ],
  [
    /(?:a |einen )?(?:(?:whole|full)[ -]?(?:tones?|steps?)|ganzt(?:on|öne))(?!\p{L})/iuy,
    () => amount(2, 'word'),
  ],
  [/(?:a )?half(?!\p{L})/iuy, () => amount(1, 'word')],
  [/(?:a )?(?:whole|full)(?!\p{L})/iuy, () => amount(2, 'word')],
  // letters for a whole or a half tone, which no note has behind a sign
  [/([+-]) ?([WTH])(?![\p{L}\d#])/uy, (m) => amount(m[2] === 'H' ? 1 : 2, 'word', m[1])],
  // cents
  [
    /([+-]?)([1-7])00(?: ?(?:cents?|ct|c|¢))?(?![\d\p{L}])/uy,
    (m) => amount(Number(m[2]), 'word', m[1]),
  ],
  // fractions of a tone
  [/([+-]?)(?:(\d) ?½|½)/uy, (m) => amount(2 * Number(m[2] ?? 0) + 1, 'fraction', m[1])],
  [
    /([+-]?)(?:(\d)[ +]|(?<![\d/]))1\/2(?![\d/])/uy,
    (m) => amount(2 * Number(m[2] ?? 0) + 1, 'fraction', m[1]),
  ],
  [/([+-]?)(\d)[.,]5(?!\d)/uy, (m) => amount(2 * Number(m[2] ?? 0) + 1, 'fraction', m[1])],
  // signs and numbers
  [/([+-]) ?(\d{1,2})(?![\d])/uy, (m) => amount(Number(m[2]), 'number', m[1])],
  [/(\+{1,7}|-{1,7})(?![-+\d>])/uy, (m) => amount(m[1]?.length ?? 0, 'marks', m[1]?.[0])],
  [/(\d{1,2})(?!\d)/uy, (m) => amount(Number(m[1]), 'number')],
  // directions
  [/[↑▲△⬆⇧»](?: ?[↑▲△⬆⇧»])*/uy, (m) => way(1, m[0].replace(/ /gu, '').length)],
  [/[↓▼▽⬇⇩«](?: ?[↓▼▽⬇⇩«])*/uy, (m) => way(-1, m[0].replace(/ /gu, '').length)],
  [/\^+/uy, (m) => way(1, m[0].length)],
  [/v+(?![\p{L}\d])/uy, (m) => way(-1, m[0].length)],
  [
    /(?:raise[sd]?|raising|up|sharp(?:s|ed|ens)?|hebt|heben|erhöht|erhöhen|hoch|höher|rauf)(?!\p{L})/iuy,
    () => way(1),
  ],
  [
    /(?:lower(?:s|ed|ing)?|down|flat(?:s|ted|tens)?|drop(?:s|ped)?|senkt|senken|erniedrigt|tiefer|runter|herunter)(?!\p{L})/iuy,
    () => way(-1),
  ],
  [/R(?![\p{L}])/uy, () => way(1, 0, true)],
  [/L(?![\p{L}])/uy, () => way(-1, 0, true)],
  // from one to the other
  [/(?:[-=]?>|[→➔➜⟶⇒])|(?:into|to|auf|nach|zu)(?!\p{L})/iuy, () => ({ kind: 'to' })],
  [/[/|,;]|(?:first|then|erst|dann)(?!\p{L}|\s+(?:string|saite))/iuy, () => ({ kind: 'then' })],
  [/[([]/uy, () => ({ kind: 'open' })],
  [/[)\]]/uy, () => ({ kind: 'close' })],
  [/([A-Ha-h](?:##?|bb?)?)['’]s(?!\p{L})/uy, (m) => noteOf(m, m[1])],
  // `the E strings`: which strings, and not what becomes of them
  [
    /([A-H](?:isis|is|eses|es|s|##?|bb?)?)[ -](?:strings?|saiten?)(?!\p{L})/uy,
    (m) => noteOf(m, m[1]),
  ],
  [/[A-Ha-h](?:isis|is|eses|es|s|##?|bb?)?(?:-?\d)?(?![\p{L}\d#])/uy, noteOf],
];

function noteOf(match: RegExpExecArray, text = match[0]): PullToken | undefined {
  const note = readNoteWord(text);
  return note && { kind: 'note', note, isPlural: text !== match[0] };
}

/** The token that begins at a place, if one does. */
export function pullTokenAt(text: string, at: number): Placed | undefined {
  for (const [rule, make] of RULES) {
    rule.lastIndex = at;
    const match = rule.exec(text);
    if (match === null || match[0].length === 0) continue;
    const token = make(match);
    if (token !== undefined) return { token, at, length: match[0].length };
  }
  return undefined;
}

/** All of a text as tokens; `undefined` where something in it is none. */
export function pullTokens(text: string): Placed[] | undefined {
  const tokens: Placed[] = [];
  for (let at = 0; at < text.length;) {
    if (/\s/u.test(text.charAt(at))) {
      at++;
      continue;
    }
    const placed = pullTokenAt(text, at);
    if (placed === undefined) return undefined;
    tokens.push(placed);
    at += placed.length;
  }
  return tokens;
}

/** Is a text a way in words and how far, in either order, and no more: `up half`, `lower 1/2`, `1 down`? */
export const isWayWithAmount = (text: string): boolean => {
  const tokens = pullTokens(text)?.map(({ token }) => token) ?? [];
  return (
    tokens.length === 2 &&
    tokens.some((token) => token.kind === 'way' && token.arrows === 0 && !token.letter) &&
    tokens.some((token) => token.kind === 'amount' && token.sign === 0)
  );
};
