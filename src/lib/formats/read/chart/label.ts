/** What stands at a string's side in a chart: its number, its open note, its gauge. */
import { readNoteWord, type NoteWord } from './noteWord';

export interface Label {
  readonly number?: number;
  readonly note?: NoteWord;
  /** Inches. */
  readonly gauge?: number;
  readonly wound?: boolean;
}

/** What a column of labels has. */
export type LabelRole = 'number' | 'note' | 'gauge';

const ROLES: readonly (readonly [LabelRole, RegExp])[] = [
  ['number', /^(?:str(?:ing)?s?|saiten?|nr|no|nummer|number|#|s|st)$/iu],
  [
    'note',
    /^(?:open(?: notes?| strings?)?|notes?|tuning|tuned(?: to)?|pitch(?:es)?|ton|töne|noten|stimmung|leersaiten?|offen|leer)$/iu,
  ],
  ['gauge', /^(?:ga|gau?ges?|stärken?|saitenstärken?|dicken?|size|wire|inch(?:es)?|zoll)$/iu],
];

/** What a column's head says it has, where it has no control. */
export function labelRole(head: string): LabelRole | undefined {
  const plain = head.replace(/[.:()"]/gu, '').trim();
  return ROLES.find(([, words]) => words.test(plain))?.[0];
}

/** A gauge as charts have it: `.013`, `0.013"`, `013`, `26w`, `.036 wound`. */
function gaugeOf(word: string): Pick<Label, 'gauge' | 'wound'> | undefined {
  const match = /^(?:0?\.(\d{2,4})|0?(\d{2}))["″]?(w|p)?$/iu.exec(word);
  if (match === null) return undefined;
  const [, fraction, thousandths, kind] = match;
  const gauge = fraction === undefined ? Number(thousandths) / 1000 : Number(`0.${fraction}`);
  if (gauge < 0.004 || gauge > 0.15) return undefined;
  return { gauge, ...(kind?.toLowerCase() === 'w' ? { wound: true } : {}) };
}

const WOUND = /^(?:w|wd|wound|umsponnen|gewickelt|umwickelt)$/iu;
const FILLING = /^(?:p|plain|string|strings|saite|saiten|str|nr|no|#|blank|st|in)$/iu;

/** Reads a string's label, its column's role known or not; `undefined` where it has something else in it. */
export function readLabel(text: string, role?: LabelRole): Label | undefined {
  const words = text
    .replace(/(\d)(?:st|nd|rd|th)\b/giu, '$1')
    // `1D4` and `1/D4` are string 1, D4
    .replace(/^([1-9]|1[0-4])\/?(?=[A-H](?:##?|bb?|is|es|s)?-?\d?$)/gu, '$1 ')
    // a German comma
    .replace(/(?<!\d)0?,(\d{3})(?!\d)/gu, '.$1')
    // `1.` and `1)` are numbers, `.013` is a gauge
    .replace(/(\d)[.:)](?=\s|$)/gu, '$1 ')
    .replace(/[()[\],;:=]/gu, ' ')
    .split(/\s+/u)
    .filter((word) => word !== '' && word !== '|');
  let label: Label = {};
  for (const word of words) {
    const note = readNoteWord(word);
    const gauge = gaugeOf(word);
    const number = /^#?(\d{1,2})$/.exec(word)?.[1];
    if (role === 'gauge' && gauge !== undefined) label = { ...label, ...gauge };
    else if (
      number !== undefined &&
      role !== 'gauge' &&
      label.number === undefined &&
      Number(number) >= 1 &&
      Number(number) <= 14 &&
      !word.startsWith('0')
    )
      label = { ...label, number: Number(number) };
    else if (note !== undefined && label.note === undefined) label = { ...label, note };
    else if (gauge !== undefined && label.gauge === undefined) label = { ...label, ...gauge };
    else if (WOUND.test(word) && label.gauge !== undefined) label = { ...label, wound: true };
    else if (!FILLING.test(word)) return undefined;
  }
  return label;
}
