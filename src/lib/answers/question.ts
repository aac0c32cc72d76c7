/**
 * What a player can ask of a setup: a chord, and limits to where and how it may be played. Questions
 * come as short texts, from the command line's options and from the page's address alike, and are
 * read here and nowhere else.
 */
import { ok, refuse, type Result } from '$lib/result';
import { defaultMatch } from '$lib/theory/allowedSets';
import { chordOfNotes, type TypedChord, type TypedNotes } from '$lib/theory/chordOfNotes';
import { prettySymbol } from '$lib/theory/display';
import { notesOtherwise } from '$lib/theory/typedNames';
import { chordFaultText, readChordInKey } from '$lib/theory/readChord';
import { looksLikeNotes } from '$lib/theory/readNotes';
import { parseKey, type Key } from '$lib/theory/spelling';
import { slantsByDefault, USUAL_SIZES } from '$lib/search/nutIndex';
import type { VoicingQuestion } from '$lib/engine/rankedVoicings';
import type { Setup } from '$lib/setup/setup';
import { EVEN } from '$lib/effort/weights';
import {
  FRET,
  KEY,
  MATCH,
  NECK,
  ON_OR_OFF,
  SIZES,
  STRINGS_AT_ONCE,
  WITHOUT,
  balanceOption,
  fretsOption,
  noteOption,
  stringsOption,
} from './commonOptions';
import { readOptions, type OptionFault, type TextsOf, type TellingOption } from './options';

/** A question that has been read: what to search for, and how to name it. */
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
/** The name of a part of a question. */
export type QuestionPart = (typeof QUESTION_PARTS)[number];
/** A question as texts, by part. */
export type QuestionTexts = TextsOf<QuestionPart>;
/** A question as it was written, and as it was read: whoever answers it need not read it once more. */
export interface Asked {
  readonly texts: QuestionTexts;
  readonly question: Question;
}
/** A fault in a question, under the part it is in. */
export type QuestionFault = OptionFault<QuestionPart>;

/** Reads a chord symbol, notes, or where there is a key a degree of it. */
const chordOption = (key: Key | undefined): TellingOption<TypedChord> => ({
  needed: true,
  tell: (text) => {
    const wrong = 'impossible';
    if (looksLikeNotes(text)) {
      const notes = chordOfNotes(text, key);
      return notes.ok ? ok(notes.value) : refuse({ ...notes.error, wrong });
    }
    const chord = readChordInKey(text, key);
    const notes = chord.ok ? undefined : notesOtherwise(text);
    if (notes !== undefined) {
      const found = `“${text.trim()}”`;
      const allowed = `${found} ${notes.says}. Did you mean ${prettySymbol(notes.letters)}?`;
      const mark = { at: 0, length: text.length };
      return refuse({ found, allowed, wrong, mark, meant: [notes.letters] });
    }
    if (!chord.ok) {
      const { at, length, found, other } = chord.error;
      const meant = other === undefined ? {} : { meant: other.readings };
      const allowed = chordFaultText(chord.error);
      return refuse({ found, allowed, wrong, mark: { at, length }, ...meant });
    }
    if (chord.value === 'no chord')
      return refuse({ found: '“N.C.”, no chord', allowed: 'a chord to look for', wrong });
    return ok({ chord: chord.value });
  },
});

const BALANCE = balanceOption(EVEN);

/** How the chord may be played; the strings that there are depend on the necks. */
const limitsOn = (necks: readonly number[]) => ({
  frets: fretsOption('0-12'),
  sizes: SIZES,
  match: MATCH,
  grip: stringsOption(necks),
  top: noteOption('E4'),
  bass: noteOption('E2'),
  without: WITHOUT,
  home: FRET,
  slants: ON_OR_OFF,
  balance: BALANCE,
});

/** Reads a question about a setup; every fault in it is told, each under the part it is in. */
export function readQuestion(
  setup: Setup,
  texts: QuestionTexts,
): Result<Question, readonly QuestionFault[]> {
  const typedKey = parseKey(texts.key ?? '');
  const about = readOptions({ chord: chordOption(typedKey), key: KEY, neck: NECK }, setup, texts);
  const { chord: typed, key, neck } = about.values;
  const necks = neck === undefined ? setup.necks.map((_, index) => index + 1) : [neck];
  const limits = readOptions(limitsOn(necks), setup, texts);
  const { grip: strings, ...given } = limits.values;

  const faults = [...about.faults, ...limits.faults];
  if (faults.length > 0 || typed === undefined) return refuse(faults);
  const { chord, notes } = typed;
  return ok({
    chord,
    necks,
    frets: [0, setup.frets],
    sizes: sizesFor(strings),
    match: defaultMatch(chord),
    without: [],
    slants: slantsByDefault(setup),
    balance: EVEN,
    ...given,
    ...(notes === undefined ? {} : searchFor(notes, given.sizes)),
    ...(strings === undefined ? {} : { strings }),
    ...(key === undefined ? {} : { key }),
  });
}

/** Whoever names the strings and not the sizes means up to all of them. */
function sizesFor(strings: readonly number[] | undefined): readonly [number, number] {
  if (strings === undefined) return USUAL_SIZES;
  const [fewest, atOnce] = STRINGS_AT_ONCE;
  const most = Math.max(fewest, Math.min(atOnce, strings.length));
  return [Math.min(USUAL_SIZES[0], most), most];
}

/**
 * Typed notes mean exactly themselves: nothing is missing, and where no sizes are asked there are strings
 * for all of them.
 */
function searchFor(
  { count, pitches }: TypedNotes,
  sizes: readonly [number, number] | undefined,
): Pick<VoicingQuestion, 'match' | 'sizes' | 'pitches'> {
  const [fewest, most] = STRINGS_AT_ONCE;
  const enough = Math.min(most, Math.max(fewest, count));
  // pitches lie on a string each; tones may be doubled
  const widest = pitches === undefined ? Math.max(enough, USUAL_SIZES[1]) : enough;
  return {
    match: 'complete',
    sizes: sizes ?? [enough, widest],
    ...(pitches === undefined ? {} : { pitches }),
  };
}
