/** A place of which two tabs say something else, in words. */
import { ABSENT, type Conflict } from './threeWay';

export interface Reading {
  readonly place: string;
  readonly mine: string;
  readonly theirs: string;
}

/** Longer texts are cut: the versions hold them whole. */
const MOST = 60;

const cut = (text: string): string =>
  text.length > MOST ? `${text.slice(0, MOST - 1).trimEnd()}…` : text;

/** A value in a line; `undefined` for one that has many parts. */
function lineOf(value: unknown): string | undefined {
  if (value === ABSENT || value === undefined) return 'removed';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') return String(value);
  if (typeof value !== 'string') return undefined;
  const line = value.replace(/\s+/gu, ' ').trim();
  return line === '' ? 'nothing' : cut(line);
}

const HERE = 'changed here';
const THERE = 'changed there';

/** Both sides of a place; `line` says a value that has many parts. */
export const readingOf = (
  place: string,
  { mine, theirs }: Conflict,
  line: (value: unknown) => string | undefined = () => undefined,
): Reading => ({
  place,
  mine: line(mine) ?? lineOf(mine) ?? HERE,
  theirs: line(theirs) ?? lineOf(theirs) ?? THERE,
});

/** A place of which no line can say what it holds. */
export const changedBoth = (place: string): Reading => ({ place, mine: HERE, theirs: THERE });
