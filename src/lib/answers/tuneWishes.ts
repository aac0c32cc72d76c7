/**
 * What is played of a tune, as text: textures of measures, `5-8=thirds;12=sixths`, and single notes,
 * `5:1=tune:4;5:2.5=no-string:3;6:1=hold:8/A,B/3-4-5;7=fret:3`, by measure as it is written and beat in it.
 */
import type { Setup } from '$lib/setup/setup';
import type { NotesWished, NoteWishes } from '$lib/arrange/noteWishes';
import { TEXTURES, type Texture, type Textures } from '$lib/arrange/texture';
import type { Strike, Strikes } from '$lib/arrange/strike';
import { STRIKES as STRIKE_NAMES } from '$lib/arrange/strikeNames';
import { FRET } from './commonOptions';
import type { PlainOption } from './options';
import { readStrings } from './questionParts';
import { holdText, readHold } from './stepWishes';

type MeasureTextures = Textures['measures'];

const isTexture = (text: string): text is Texture => (TEXTURES as readonly string[]).includes(text);

/** Reads textures of measures; `undefined` where one makes no sense. */
function readMeasures(text: string): MeasureTextures | undefined {
  const found: MeasureTextures[number][] = [];
  for (const item of text.split(';').map((each) => each.trim())) {
    if (item === '') continue;
    const [, first, last = first, texture = ''] =
      /^(\d{1,4})(?:\s*-\s*(\d{1,4}))?\s*=\s*(.+)$/.exec(item) ?? [];
    const [from, to] = [Number(first), Number(last)];
    if (!(from >= 1 && to >= from) || !isTexture(texture)) return undefined;
    found.push({ from, to, texture });
  }
  return found;
}

/** Textures of measures as an option. */
export const MEASURES: PlainOption<MeasureTextures> = {
  read: readMeasures,
  allowed: () => `measures and a texture, such as 5-8=thirds (${TEXTURES.join(', ')})`,
};

/** The same back into text. */
export const measuresText = (measures: MeasureTextures): string =>
  measures
    .map(({ from, to, texture }) => `${from === to ? from : `${from}-${to}`}=${texture}`)
    .join(';');

/** One measure more with a texture of its own; what was said of single measures in it goes. */
export function withMeasures(
  measures: MeasureTextures,
  from: number,
  to: number,
  texture: Texture | undefined,
): MeasureTextures {
  const others = measures.flatMap((each) => {
    if (each.to < from || each.from > to) return [each];
    const before = each.from < from ? [{ ...each, to: from - 1 }] : [];
    const after = each.to > to ? [{ ...each, from: to + 1 }] : [];
    return [...before, ...after];
  });
  const own = texture === undefined ? [] : [{ from, to, texture }];
  return [...others, ...own].sort((a, b) => a.from - b.from);
}

type Writable<T> = { -readonly [key in keyof T]: T[key] };

/** The longest list of strings there is. */
const stringsOf = (setup: Setup): number =>
  Math.max(...setup.necks.map(({ strings }) => strings.length));

function readOne(setup: Setup, own: Writable<NoteWishes>, text: string): boolean {
  const [, name = '', value = ''] = /^([a-z-]+):(.+)$/.exec(text) ?? [];
  const strings = () => readStrings(value.replaceAll('-', ','), stringsOf(setup));
  switch (name) {
    case 'fret': {
      const fret = FRET.read(value, setup);
      if (fret !== undefined) own.fret = fret;
      return fret !== undefined;
    }
    case 'hold': {
      const hold = readHold(value, setup);
      if (hold !== undefined) own.hold = hold;
      return hold !== undefined;
    }
    case 'no-hold': {
      const hold = readHold(value, setup);
      if (hold !== undefined) own.noHolds = [...(own.noHolds ?? []), hold];
      return hold !== undefined;
    }
    case 'tune': {
      const [string, ...more] = strings() ?? [];
      if (string === undefined || more.length > 0) return false;
      own.tuneOn = string;
      return true;
    }
    case 'string':
    case 'no-string': {
      const read = strings();
      if (read === undefined) return false;
      if (name === 'string') own.strings = read;
      else own.noStrings = [...new Set([...(own.noStrings ?? []), ...read])].sort((a, b) => a - b);
      return true;
    }
    default:
      return false;
  }
}

/** Reads what is asked of notes; `undefined` where one makes no sense. */
function readNotes(text: string, setup: Setup): NotesWished | undefined {
  const notes = new Map<string, Writable<NoteWishes>>();
  for (const item of text.split(';').map((each) => each.trim())) {
    if (item === '') continue;
    const [, measure, beat, wish = ''] =
      /^([1-9]\d{0,3})(?::(\d{1,3}(?:\.\d{1,3})?))?\s*=\s*(.+)$/.exec(item) ?? [];
    if (measure === undefined) return undefined;
    const place = beat === undefined ? measure : `${measure}:${Number(beat)}`;
    const own = notes.get(place) ?? {};
    if (!readOne(setup, own, wish)) return undefined;
    notes.set(place, own);
  }
  return notes;
}

/** What is asked of single notes, as an option. */
export const NOTES: PlainOption<NotesWished> = {
  read: readNotes,
  allowed: () =>
    'places (measure:beat, or a measure) with what is wished there, such as 5:1=tune:4;5:2.5=no-string:3;6:1=hold:8/A,B/3-4-5;7=fret:3',
};

/** In the order of measures and beats. */
const inTime = (a: string, b: string): number => {
  const [measureA = 0, beatA = 0] = a.split(':').map(Number);
  const [measureB = 0, beatB = 0] = b.split(':').map(Number);
  return measureA - measureB || beatA - beatB;
};

/** The same back into text. */
export function notesText(notes: NotesWished): string {
  const items: string[] = [];
  for (const [place, own] of [...notes].sort((a, b) => inTime(a[0], b[0]))) {
    const add = (wish: string): void => void items.push(`${place}=${wish}`);
    const { hold, fret, strings, tuneOn, noStrings, noHolds = [] } = own;
    if (hold !== undefined) add(`hold:${holdText(hold)}`);
    if (fret !== undefined) add(`fret:${fret}`);
    if (strings !== undefined) add(`string:${strings.join(',')}`);
    if (tuneOn !== undefined) add(`tune:${tuneOn}`);
    if (noStrings !== undefined) add(`no-string:${noStrings.join(',')}`);
    for (const each of noHolds) add(`no-hold:${holdText(each)}`);
  }
  return items.join(';');
}

const strikeNamed = (text: string): Strike | undefined =>
  STRIKE_NAMES.find((each) => each === text);

/** Reads patterns; `undefined` where one makes no sense. */
function readStrikes(text: string): Strikes | undefined {
  let all: Strike | undefined;
  const parts: Strikes['parts'][number][] = [];
  for (const item of text.split(';').map((each) => each.trim())) {
    if (item === '') continue;
    const [, where, name = ''] = /^(?:(.+?)\s*=\s*)?([a-z]+)$/u.exec(item) ?? [];
    const strike = strikeNamed(name);
    if (strike === undefined) return undefined;
    const [, first, last = first] = /^(\d{1,4})(?:\s*-\s*(\d{1,4}))?$/.exec(where ?? '') ?? [];
    if (where === undefined) all = strike;
    else if (first === undefined) parts.push({ section: where, strike });
    else if (Number(first) >= 1 && Number(last) >= Number(first))
      parts.push({ from: Number(first), to: Number(last), strike });
    else return undefined;
  }
  return { ...(all === undefined ? {} : { strike: all }), parts };
}

/** Patterns of the right hand as an option: for all, for measures, for sections by name. */
export const STRIKE: PlainOption<Strikes> = {
  read: readStrikes,
  allowed: () =>
    `${STRIKE_NAMES.join(', ')}, for all or for some, such as rolled;5-8=chop;Chorus=pad`,
};

/** The same back into text. */
export const strikesText = ({ strike, parts }: Strikes): string =>
  [
    ...(strike === undefined ? [] : [strike]),
    ...parts.map((part) =>
      'section' in part
        ? `${part.section}=${part.strike}`
        : `${part.from === part.to ? part.from : `${part.from}-${part.to}`}=${part.strike}`,
    ),
  ].join(';');

/** With another pattern for some measures, or for all where none are named; as usual where none is given. */
export function withStrike(
  { strike, parts }: Strikes,
  measures: readonly [number, number] | undefined,
  next: Strike | undefined,
): Strikes {
  if (measures === undefined) return { ...(next === undefined ? {} : { strike: next }), parts };
  const [from, to] = measures;
  const others = parts.filter((part) => 'section' in part || part.from !== from || part.to !== to);
  // where the rest is struck otherwise, the usual strike is all strings at once
  const own = next ?? (strike === undefined ? undefined : 'whole');
  return {
    ...(strike === undefined ? {} : { strike }),
    parts: own === undefined ? others : [...others, { from, to, strike: own }],
  };
}

/** With another pattern for a section by its name; as the rest where none is given. */
export function withSectionStrike(
  { strike, parts }: Strikes,
  section: string,
  next: Strike | undefined,
): Strikes {
  const others = parts.filter(
    (part) => !('section' in part) || part.section.toLowerCase() !== section.toLowerCase(),
  );
  return {
    ...(strike === undefined ? {} : { strike }),
    parts: next === undefined ? others : [...others, { section, strike: next }],
  };
}

/** Sections whose pattern can be said in a text: each name once, without the signs that part wishes. */
export const strikableSections = (
  measures: readonly { readonly section?: string }[],
): readonly string[] => [
  ...new Set(
    measures.flatMap(({ section }) =>
      section === undefined || !/^[^;=\s\d-](?:[^;=]*[^;=\s])?$/u.test(section) ? [] : [section],
    ),
  ),
];
