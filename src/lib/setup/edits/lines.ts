/**
 * Several cells of the copedent from one line: the pulls of a control, the pulls of a string from one control
 * on, open notes and gauges from one string on.
 */
import { ok, refuse } from '$lib/result';
import type { Setup } from '../setup';
import { setId } from './controls';
import { edited, type Edited } from './edited';
import { setPull, type Cell } from './pulls';
import { openNotesOf } from './start';
import { setWire, withNeck } from './strings';

/** Edits one after the other; the first that cannot be made says why, and then none is. */
const inTurn = (setup: Setup, edits: readonly ((setup: Setup) => Edited)[]): Edited =>
  edits.reduce<Edited>((made, edit) => (made.ok ? edit(made.value) : made), ok(setup));

/** The words of a line; the stops of one pull, `-1 / -2`, are one. */
export const wordsOfLine = (text: string): string[] =>
  text
    .replace(/\s*\/\s*/gu, '/')
    .split(/[\s;,]+/u)
    .filter((word) => word !== '');

/** `5 10+2`: strings, and what is done to all of them: semitones behind a sign, or a note behind a space. */
const SOME =
  /((?:\d{1,2}[\s,;]+)*\d{1,2})(?:\s*[:=]\s*|\s*(?=[+-])|\s+(?=[A-Ga-g]))([^\s,;]+)(?:[\s,;]+|$)/uy;

/** What is written at a control's head: its id, its pulls, or both: `A`, `5 10+2`, `A 5 10+2`. */
export function readHead(text: string): { readonly id?: string; readonly pulls?: string } {
  const said = text
    .trim()
    .replaceAll('−', '-')
    .replace(/\s*\/\s*/gu, '/');
  if (/^\d{1,2}\s*(?:[+:=-]|[\s,;]\s*\S)/u.test(said)) return { pulls: said };
  const [, id, pulls] = /^([^\s\d:][^\s:]*):?\s+(\d.*)$/u.exec(said) ?? [];
  return id === undefined || pulls === undefined ? { id: said } : { id, pulls };
}

/** Sets pulls of a control on a neck from one line, such as `5 10+2` or `2-1/-2 9-1`; its other pulls stay. */
export function setPulls(setup: Setup, id: string, neck: number, line: string): Edited {
  const edits: ((setup: Setup) => Edited)[] = [];
  SOME.lastIndex = 0;
  for (let at = 0; at < line.length; at = SOME.lastIndex) {
    SOME.lastIndex = at;
    const [, strings, travel] = SOME.exec(line) ?? [];
    if (strings === undefined || travel === undefined)
      return refuse(
        `“${line.slice(at)}” is no pull; write strings and what is done to them, such as 5 10+2 or 2-1/-2.`,
      );
    for (const string of wordsOfLine(strings))
      edits.push((each) => setPull(each, { id, neck, string: Number(string) }, travel));
  }
  return inTurn(setup, edits);
}

/** What is written at a control's head, as an edit. */
export function setHead(setup: Setup, id: string, neck: number, text: string): Edited {
  const { id: called = id, pulls } = readHead(text);
  const named = setId(setup, id, called);
  return !named.ok || pulls === undefined ? named : setPulls(named.value, called, neck, pulls);
}

/** Sets a string's pulls from one control on, `ids` being those from there on; a dot is no pull. */
export function setPullsAlong(
  setup: Setup,
  { neck, string }: Omit<Cell, 'id'>,
  ids: readonly string[],
  line: string,
): Edited {
  const words = wordsOfLine(line);
  if (words.length > ids.length)
    return refuse(`${words.length} pulls are more than the controls from here on, ${ids.length}.`);
  return inTurn(
    setup,
    words.map((word, index) => (each: Setup) => {
      const id = ids[index] ?? '';
      return setPull(each, { id, neck, string }, /^[.·_x]$/u.test(word) ? '' : word);
    }),
  );
}

/** Tunes the strings from `from` on to the notes of a line, `F# D# G# E` or with their octaves. */
export function setOpens(setup: Setup, neck: number, from: number, line: string): Edited {
  const there = setup.necks[neck - 1];
  const pitches = openNotesOf(wordsOfLine(line));
  if (there === undefined) return refuse(`There is no neck ${neck}.`);
  if (!pitches.ok) return pitches;
  const room = there.strings.length - from + 1;
  if (pitches.value.length > room)
    return refuse(`${pitches.value.length} notes are more than the strings from here on, ${room}.`);
  const strings = there.strings.map((string, index) => {
    const open = pitches.value[index - from + 1];
    return open === undefined ? string : { ...string, open };
  });
  return edited(withNeck(setup, neck, { ...there, strings }));
}

/** Sets the gauges of the strings from `from` on from a line, `.013 .015 .011`. */
export function setWires(setup: Setup, neck: number, from: number, line: string): Edited {
  const words = wordsOfLine(line);
  const room = (setup.necks[neck - 1]?.strings.length ?? 0) - from + 1;
  if (words.length > room)
    return refuse(`${words.length} gauges are more than the strings from here on, ${room}.`);
  return inTurn(
    setup,
    words.map((word, index) => (each: Setup) => setWire(each, neck, from + index, word)),
  );
}
