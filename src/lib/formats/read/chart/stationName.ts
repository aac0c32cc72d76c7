/**
 * What stands over a control in a chart: a station (`P1`, `LKL`, `left knee left`, `Pedal 1`), or the
 * letter that players call it by.
 */
import {
  LEFT_KNEE,
  PEDALS,
  RIGHT_KNEE,
  STATIONS,
  type PedalStation,
  type Station,
} from '$lib/setup/setup';

export interface StationName {
  /** Where it says so itself. */
  readonly station?: Station;
  /** The letter or word that the control is called by, if there is one. */
  readonly called?: string;
  /** Said to be a pedal, or a lever. */
  readonly kind?: 'pedal' | 'lever';
  /** Said to be what it raises, or what it lowers, where that stands apart. */
  readonly way?: 1 | -1;
}

const SIDES: Readonly<Record<string, string>> = {};
const PARTS: readonly (readonly [side: string, words: string])[] = [
  ['L', 'l lk left leftknee links linkes linker linken linke lkl?'],
  ['R', 'r rk right rightknee rechts rechtes rechter rechten rechte'],
];
const WAYS: readonly (readonly [way: string, words: string])[] = [
  ['L', 'l left links'],
  ['R', 'r right rechts'],
  ['V', 'v u up upward upwards vertical vert hoch oben aufwärts senkrecht vertikal'],
];
const tableOf = (rows: readonly (readonly [string, string])[]): Readonly<Record<string, string>> =>
  Object.fromEntries(rows.flatMap(([as, words]) => words.split(' ').map((word) => [word, as])));
const SIDE_OF = { ...SIDES, ...tableOf(PARTS) };
const WAY_OF = tableOf(WAYS);

/** Words that say that it is a knee lever, and no more. */
const FILLING = new Set(
  'knee knees lever levers kl k knie kniehebel hebel to toward towards moving moves moved move pushed push the nach in inside outside way'.split(
    ' ',
  ),
);

const ORDINALS = tableOf([
  ['1', '1st first erstes erster eins one'],
  ['2', '2nd second zweites zweiter zwei two'],
  ['3', '3rd third drittes dritter drei three'],
  ['4', '4th fourth viertes vierter vier four'],
  ['5', '5th fifth fünftes fünfter fünf five'],
  ['6', '6th sixth sechstes sechs six'],
  ['7', '7th seventh siebtes sieben seven'],
  ['8', '8th eighth achtes acht eight'],
]);

const pedal = (number: number): PedalStation | undefined => PEDALS[number - 1];
const isStation = (text: string): text is Station => (STATIONS as readonly string[]).includes(text);

function pedalOf(text: string): Station | undefined {
  const match =
    /^(?:p|pd|ped|pedal|floor pedal|fu(?:ß|ss)pedal|foot pedal)\.? ?(?:no\.? ?|nr\.? ?|#)?(\d{1,2}|\w+)$/u.exec(
      text,
    ) ?? /^(\d{1,2}|\w+)\.? (?:floor |foot )?(?:p|ped|pedal|fu(?:ß|ss)pedal)$/u.exec(text);
  const number = match?.[1];
  if (number === undefined) return undefined;
  const digits = ORDINALS[number] ?? number.replace(/(?:st|nd|rd|th)$/u, '');
  return /^\d+$/.test(digits) ? pedal(Number(digits)) : undefined;
}

function kneeOf(text: string): Station | undefined {
  const short = /^([lr])[ .-]?k[ .-]?([lrvu])[ .-]?(2)?\.?$/u.exec(text);
  if (short !== null) {
    const name = `${short[1] ?? ''}K${short[2] === 'u' ? 'v' : (short[2] ?? '')}${short[3] ?? ''}`;
    const station = name.toUpperCase();
    return isStation(station) ? station : undefined;
  }
  // two letters alone are short for the same: LL, RV
  const letters = /^[lr][lrv]$/u.test(text) ? text.split('') : text.split(/[ ._-]+/u);
  const words = letters.filter((word) => word !== '' && !FILLING.has(word));
  const bank = words.at(-1) === '2' ? words.pop() : '';
  const [side = '', way = '', ...more] = words;
  if (more.length > 0) return undefined;
  const sideOf = SIDE_OF[side];
  const wayOf = WAY_OF[way];
  if (sideOf === undefined || wayOf === undefined) return undefined;
  const station = `${sideOf}K${wayOf}${bank ?? ''}`;
  return isStation(station) ? station : undefined;
}

function handOf(text: string): Station | undefined {
  if (/^(?:wrist|handgelenk)(?: lever|hebel)?$/u.test(text)) return 'WRIST';
  const palm = /^(?:palm|handballen)(?: ?lever|hebel)? ?([12])?$/u.exec(text);
  return palm === null ? undefined : palm[1] === '2' ? 'PALM2' : 'PALM1';
}

/** A station by one of its names. */
function stationOf(text: string): Station | undefined {
  // in small letters two are no word for it
  if (/^[lr][lrv]$/u.test(text.trim())) return undefined;
  const plain = text
    .toLowerCase()
    .replace(/[([\])“”"':*=]+/gu, ' ')
    .replace(/\s+/gu, ' ')
    .trim();
  return plain === '' ? undefined : (pedalOf(plain) ?? kneeOf(plain) ?? handOf(plain));
}

const KIND =
  '(?:floor |foot )?pedal|(?:fu(?:ß|ss))?pedal|ped\\.?|floor|(?:knee )?lever|lev\\.?|(?:knie)?hebel';
const CALLED = new RegExp(`^(?:the )?(${KIND})?[ -]?([A-Z])(?:['’]?s)?[ -]?(${KIND})?$`, 'iu');

/** A control by its letter: `A`, `E lever`, `pedal B`, `ped. C`, `PA`, `floor A`, `Hebel F`. */
function calledOf(text: string): StationName | undefined {
  const pedalLetter = /^P-?([ABC])$/u.exec(text.trim())?.[1];
  if (pedalLetter !== undefined) return { called: pedalLetter, kind: 'pedal' };
  const match = CALLED.exec(text.trim());
  if (match === null) return undefined;
  const [, before, letter = '', behind] = match;
  const said = (before ?? behind)?.toLowerCase();
  // `pedals` and `levers` are no names, and no word of small letters is
  const isSmall = letter !== letter.toUpperCase();
  if (isSmall && (said === undefined || !/[ -]/u.test(text.trim()))) return undefined;
  return {
    called: letter.toUpperCase(),
    ...(said === undefined ? {} : { kind: /ped|floor/u.test(said) ? 'pedal' : 'lever' }),
  };
}

/** Reads what stands over a control; `undefined` where it is no station and no letter. */
export function readStationName(text: string): StationName | undefined {
  if (text.length > 60) return undefined;
  const [, word, apart] = WAY_BEHIND.exec(text.trim()) ?? [];
  if (word !== undefined && apart !== undefined) {
    const name = plainName(word);
    return name && { ...name, way: /^[rhe+↑]/iu.test(apart) ? 1 : -1 };
  }
  return plainName(text);
}

/** `P1 raise`, `LKR (lowers)`. */
const WAY_BEHIND = /^(.+?)[\s:,([-]+(raises?|lowers?|hebt|senkt|erhöht|[+↑↓])[)\]]?$/iu;

function plainName(text: string): StationName | undefined {
  const station = stationOf(text);
  if (station !== undefined) return { station };
  const letter = calledOf(text);
  if (letter !== undefined) return letter;
  // both: `A (P1)`, `LKL / F`, `P1 = A`, `F LKL`
  const signed = /^(.+?)\s*[([/=:,–-]\s*(.+?)[)\]]?$/u.exec(text.trim());
  const [, one = '', other = ''] = signed ?? /^(\S+)\s+(\S+)$/u.exec(text.trim()) ?? [];
  if (one === '' || other === '') return undefined;
  for (const [as, called] of [
    [one, other],
    [other, one],
  ] as const) {
    const place = stationOf(as);
    if (place === undefined || stationOf(called) !== undefined) continue;
    const letterOf =
      calledOf(called)?.called ?? (/^[A-Z][A-Z\d]{0,3}$/u.test(called) ? called : '');
    if (letterOf !== '') return { station: place, called: letterOf };
    // a remark in brackets, and no string before one
    if (signed !== null && (as === one || !/\d|[#♯]/u.test(called))) return { station: place };
  }
  return undefined;
}

const LEVERS: readonly Station[] = [...LEFT_KNEE, ...RIGHT_KNEE];
/**
 * Where the letters of players usually are: A, B and C are the first three pedals; F raises the E
 * strings and E lowers them, on the left knee; D and G are on the right (common practice of the trade
 * on E9, from memory; no two instruments need agree).
 */
const USUAL: Readonly<Record<string, readonly Station[]>> = {
  A: ['P1'],
  B: ['P2'],
  C: ['P3'],
  D: ['RKR'],
  E: ['LKR'],
  F: ['LKL'],
  G: ['RKL'],
  V: ['LKV', 'RKV'],
  X: ['LKV', 'RKV'],
};

/** Where a letter usually is, the likeliest first; none where it has no usual place. */
export const usualStations = (letter: string): readonly Station[] => USUAL[letter] ?? [];

/** Letters of pedals, which every player means alike. */
export const isPedalLetter = (called: string): boolean => /^[ABC]$/.test(called);

/** Where a control that says no station may be, the likeliest first, of the stations that are free. */
export function likelyStations(
  { called = '', kind }: StationName,
  taken: ReadonlySet<Station>,
): Station[] {
  const usual = USUAL[called] ?? [];
  const order: readonly Station[] =
    kind === 'pedal'
      ? [...usual.filter((each) => each.startsWith('P')), ...PEDALS.slice(0, 10), ...LEVERS]
      : [...usual, ...LEVERS, ...PEDALS.slice(0, 10)];
  return [...new Set(order)].filter((station) => !taken.has(station));
}
