/** Options that several jobs read alike, and how the command line refuses one. */
import { Option } from 'commander';
import { prettySymbol } from '$lib/theory/display';
import { NOTE_NAMES, isNoteNames, type NoteNames } from '$lib/theory/noteNames';
import { chordInLetters, keyInLetters } from '$lib/theory/typedNames';
import { textInLetters, type NotesIn } from '$lib/theory/typedText';
import { readKey, type Key } from '$lib/theory/spelling';
import { PAPERS, isPaper, type Paper } from '$lib/formats/drawing';
import { UNITS, type Units } from '$lib/strings/units';
import { optionFaultText, type OptionFault } from '$lib/answers/options';
import { Refusal } from './out';

/**
 * Every fault as a sentence, under the option it was written with: 2 where a text makes no sense, 1
 * where all ask for something impossible.
 */
export const optionsRefused = <Part extends string>(
  faults: readonly OptionFault<Part>[],
  optionOf = (part: Part): string => `--${part}`,
): Refusal =>
  new Refusal(
    faults.map((fault) => optionFaultText({ ...fault, path: optionOf(fault.path) })),
    faults.some(({ wrong }) => wrong === 'unreadable') ? 2 : 1,
  );

/** The key that `--key` names, as notes are called. */
export function keyOf(text: string): Key {
  const key = readKey(keyInLetters(text));
  if (key.ok) return key.value;
  throw new Refusal(`--key: found “${key.error.found}”; allowed is ${key.error.allowed}.`, 2);
}

/** How notes are called: `--names`, or once for all in the environment. */
export const namesOption = (): Option =>
  new Option(
    '--names <how>',
    `how notes are called, typed and printed: ${NOTE_NAMES.join(', ')}; JSON keeps letters`,
  )
    .default('letters' satisfies NoteNames)
    .env('GRIPWRIGHT_NAMES');

/** The way of calling notes that `--names` tells. */
export function namesOf(text: string): NoteNames {
  if (isNoteNames(text)) return text;
  throw new Refusal(`--names: found “${text}”; allowed are ${NOTE_NAMES.join(', ')}.`, 2);
}

/** A chord or notes as they were typed, in letters; refused where they say one of two things. */
export function typedChord(option: string, text: string): string {
  const typed = chordInLetters(text);
  if ('letters' in typed) return typed.letters;
  const meant = typed.readings.map((each) => prettySymbol(each)).join(' or ');
  throw new Refusal(`${option}: “${text}” ${typed.says}. Did you mean ${meant}?`, 1);
}

/** Options as they were typed, in letters where they have notes in them: by name, what of each are notes. */
export function inLetters<
  Part extends string,
  Texts extends Readonly<Partial<Record<Part, string | undefined>>>,
>(texts: Texts, kinds: Readonly<Record<Part, NotesIn>>): Texts {
  const parts = Object.entries<NotesIn>(kinds) as [Part, NotesIn][];
  const letters = parts.flatMap(([part, kind]) => {
    const text = texts[part];
    return text === undefined ? [] : [[part, textInLetters(kind, text)] as const];
  });
  return { ...texts, ...Object.fromEntries(letters) };
}

/** The size that `--paper` names. */
export function paperOf(text: string): Paper {
  if (isPaper(text)) return text;
  throw new Refusal(`--paper: found “${text}”; allowed are ${PAPERS.join(', ')}.`, 2);
}

/** Metric or US units in what is read and printed: `--units`, or once for all in the environment. */
export const unitsOption = (): Option =>
  new Option(
    '--units <which>',
    'metric (N, mm) or us (lb, in): what is typed and printed; JSON keeps N and mm',
  )
    .choices(UNITS)
    .default('metric' satisfies Units)
    .env('GRIPWRIGHT_UNITS');

/** A number from 0 up, such as 3 or 2.5. */
export const decimal = (text: string): number | undefined =>
  /^\d+(\.\d+)?$/.test(text) ? Number(text) : undefined;
