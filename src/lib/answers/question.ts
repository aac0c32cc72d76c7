/**
 * What a player can ask of a setup: a chord, and limits to where and how it may be played. Questions
 * come as short texts, from the command line's options and from the page's address alike, and are
 * read here and nowhere else.
 */
import { ok, refuse, type Fault, type Result } from '$lib/result';
import { defaultMatch, MATCHES } from '$lib/theory/chord';
import { chordFaultText, readChord } from '$lib/theory/readChord';
import { readKey, type Key } from '$lib/theory/spelling';
import { slantsByDefault, USUAL_SIZES } from '$lib/search/nutIndex';
import type { VoicingQuestion } from '$lib/engine/rankedVoicings';
import type { Setup } from '$lib/setup/setup';
import {
  ANY,
  BALANCE,
  RANGE,
  WHOLE,
  WHOLES,
  listOf,
  readBalance,
  readNote,
  readRange,
  readStrings,
  readWhole,
} from './questionParts';
import { EVEN } from '$lib/effort/weights';

export interface Question extends VoicingQuestion {
  /** The key that names are spelled in. */
  readonly key?: Key;
}

/** A question as it is written; every part but the chord may be left out. */
export const QUESTION_PARTS = [
  'chord',
  'key',
  'neck',
  'frets',
  'sizes',
  'match',
  'grip',
  'top',
  'bass',
  'without',
  'home',
  'slants',
  'balance',
] as const;
export type QuestionPart = (typeof QUESTION_PARTS)[number];
export type QuestionTexts = { readonly [part in QuestionPart]?: string | undefined };

/** A fault in a question, under the part it is in. */
export interface QuestionFault extends Fault {
  readonly path: QuestionPart | 'controls' | 'strings' | 'fret';
  /** The text makes no sense, or it does and this setup cannot give it. */
  readonly wrong: 'unreadable' | 'impossible';
  /** Where in the text the trouble is, where that is known. */
  readonly mark?: { readonly at: number; readonly length: number };
}

/** Fewest and most strings that can be asked for at once. */
export const SIZES: readonly [number, number] = [2, 6];

/** Reads a question about a setup; every fault in it is told, each under the part it is in. */
export function readQuestion(
  setup: Setup,
  texts: QuestionTexts,
): Result<Question, readonly QuestionFault[]> {
  const faults: QuestionFault[] = [];
  /** Reads one part where it is given; a part that cannot be read is a fault. */
  const read = <T>(
    part: QuestionPart,
    form: RegExp,
    reader: (text: string) => T | undefined,
    allowed: string,
  ): T | undefined => {
    const text = texts[part]?.trim();
    if (text === undefined || text === '') return undefined;
    const value = form.test(text) ? reader(text) : undefined;
    if (value === undefined) {
      const wrong = form !== ANY && form.test(text) ? 'impossible' : 'unreadable';
      faults.push({ path: part, found: `“${text}”`, allowed, wrong });
    }
    return value;
  };

  const chord = readChord(texts.chord ?? '');
  if (!chord.ok) {
    const { at, length } = chord.error;
    const allowed = chordFaultText(chord.error);
    const wrong = 'impossible';
    faults.push({ path: 'chord', found: chord.error.found, allowed, wrong, mark: { at, length } });
  } else if (chord.value === 'no chord')
    faults.push({
      path: 'chord',
      found: '“N.C.”, no chord',
      allowed: 'a chord to look for',
      wrong: 'impossible',
    });

  const key = read(
    'key',
    ANY,
    (text) => {
      const result = readKey(text);
      return result.ok ? result.value : undefined;
    },
    'a key such as Eb or F#m',
  );
  const neckCount = setup.necks.length;
  const neck = read(
    'neck',
    WHOLE,
    (text) => readWhole(text, 1, neckCount),
    neckCount === 1 ? '1, the only neck' : `a neck, 1 to ${neckCount}`,
  );
  const necks = neck === undefined ? setup.necks.map((_, index) => index + 1) : [neck];
  const stringCount = Math.max(
    ...necks.map((number) => setup.necks[number - 1]?.strings.length ?? 0),
  );
  const frets = read(
    'frets',
    RANGE,
    (text) => readRange(text, [0, setup.frets]),
    `a fret or a range such as 0-12, within 0-${setup.frets}`,
  );
  const sizes = read(
    'sizes',
    RANGE,
    (text) => readRange(text, SIZES),
    `a number of strings or a range such as 3-4, within ${SIZES.join('-')}`,
  );
  const match = read(
    'match',
    ANY,
    (text) => MATCHES.find((each) => each === text),
    MATCHES.join(', '),
  );
  const strings = read(
    'grip',
    WHOLES,
    (text) => readStrings(text, stringCount),
    `strings such as 3,4,5, each once, within 1-${stringCount}`,
  );
  const top = read('top', ANY, readNote, 'a note such as E4, or E for any octave');
  const bass = read('bass', ANY, readNote, 'a note such as E2, or E for any octave');
  const ids = setup.controls.map(({ id }) => id);
  const without = read(
    'without',
    /./,
    (text) => (listOf(text).every((id) => ids.includes(id)) ? listOf(text) : undefined),
    ids.length === 0 ? 'nothing: this setup has no controls' : `ids of controls: ${ids.join(', ')}`,
  );
  const home = read(
    'home',
    WHOLE,
    (text) => readWhole(text, 0, setup.frets),
    `a fret, 0 to ${setup.frets}`,
  );
  const slants = read(
    'slants',
    ANY,
    (text) => (text === 'on' || text === 'off' ? { on: text === 'on' } : undefined),
    'on or off',
  );
  const balance = read(
    'balance',
    BALANCE,
    readBalance,
    'parts and factors from 0 to 10, such as feet=2,bar=0.5 (feet, picking, bar)',
  );

  if (faults.length > 0 || !chord.ok || chord.value === 'no chord') return refuse(faults);
  return ok({
    chord: chord.value,
    necks,
    frets: frets ?? [0, setup.frets],
    sizes: sizes ?? sizesFor(strings),
    match: match ?? defaultMatch(chord.value),
    ...(strings === undefined ? {} : { strings }),
    ...(top === undefined ? {} : { top }),
    ...(bass === undefined ? {} : { bass }),
    without: without ?? [],
    ...(home === undefined ? {} : { home }),
    slants: slants?.on ?? slantsByDefault(setup),
    balance: balance ?? EVEN,
    ...(key === undefined ? {} : { key }),
  });
}

/** A fault as a sentence; that of a chord symbol is one already. */
export const questionFaultText = (fault: QuestionFault): string =>
  fault.mark === undefined
    ? `${fault.path}: found ${fault.found}; allowed is ${fault.allowed}.`
    : fault.allowed;

/** Whoever names the strings and not the sizes means up to all of them. */
function sizesFor(strings: readonly number[] | undefined): readonly [number, number] {
  if (strings === undefined) return USUAL_SIZES;
  const most = Math.max(SIZES[0], Math.min(SIZES[1], strings.length));
  return [Math.min(USUAL_SIZES[0], most), most];
}
