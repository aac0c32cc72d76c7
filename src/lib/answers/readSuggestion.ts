/**
 * A question for pulls as it is written: short texts, from the command line's options and from the
 * page's address alike, read here and nowhere else.
 */
import { ok, refuse, type Fault, type Result } from '$lib/result';
import { chromaOf, chromaOfName } from '$lib/theory/pitch';
import { chordFaultText, readChord } from '$lib/theory/readChord';
import { idAt, isStation } from '$lib/setup/controlText';
import { STATIONS, type Setup } from '$lib/setup/setup';
import { SIZES } from './question';
import { readRange, readWhole } from './questionParts';
import { MOST_STRINGS, type StringPlace, type StringRange } from '$lib/setup/candidates';
import { usualShapes } from '$lib/coverage/change';
import type { Repertoire } from '$lib/theory/repertoire';
import type { SuggestQuestion } from '$lib/coverage/suggestion';
import type { Wish } from '$lib/coverage/yardstick';

export const SUGGEST_PARTS = [
  'station',
  'upto',
  'want',
  'keep',
  'must',
  'never',
  'neck',
  'sizes',
] as const;
export type SuggestPart = (typeof SUGGEST_PARTS)[number];
export type SuggestTexts = { readonly [part in SuggestPart]?: string | undefined };

export interface SuggestFault extends Fault {
  readonly path: SuggestPart;
  /** The text makes no sense, or it does and this setup cannot give it. */
  readonly wrong: 'unreadable' | 'impossible';
}

type Chord = Omit<Wish, 'weight'>;

/**
 * Chords as `C7#9`, any of that type on any root, or as `F#m@3`: that chord with the bar at a fret,
 * which is the same as its root above the bar.
 */
function readChords(setup: Setup, text: string): Result<Chord[], Omit<Fault, 'path'>> {
  const chords: Chord[] = [];
  for (const item of text.split(/[\s,]+/).filter((each) => each !== '')) {
    const [symbol = '', fret, ...more] = item.split('@');
    const read = readChord(symbol);
    if (!read.ok) return refuse({ found: `“${item}”`, allowed: chordFaultText(read.error) });
    if (read.value === 'no chord' || read.value.bass !== undefined)
      return refuse({ found: `“${item}”`, allowed: 'chords without another note in the bass' });
    const at = fret === undefined ? undefined : readWhole(fret, 0, setup.frets);
    if (more.length > 0 || (fret !== undefined && at === undefined))
      return refuse({
        found: `“${item}”`,
        allowed: `a chord, or a chord and the fret of the bar, 0 to ${setup.frets}, such as F#m@3`,
      });
    const { type, root } = read.value;
    chords.push(at === undefined ? { type } : { type, root: chromaOf(chromaOfName(root) - at) });
  }
  return ok(chords);
}

function readPlaces(setup: Setup, text: string): StringPlace[] | undefined {
  const places: StringPlace[] = [];
  for (const item of text.split(/[\s,]+/).filter((each) => each !== '')) {
    const match = /^(?:([1-3])\.)?(\d{1,2})$/.exec(item);
    const at = { neck: Number(match?.[1] ?? 1), string: Number(match?.[2]) };
    if (setup.necks[at.neck - 1]?.strings[at.string - 1] === undefined) return undefined;
    places.push(at);
  }
  return places;
}

/**
 * Reads a question; every fault in it is told. The repertoire counts where no chord is wanted; how
 * far the strings may be moved is told by whoever knows them.
 */
export function readSuggestion(
  setup: Setup,
  texts: SuggestTexts,
  repertoire: Repertoire,
  limit: number,
  ranges: readonly StringRange[] = [],
): Result<SuggestQuestion, readonly SuggestFault[]> {
  const faults: SuggestFault[] = [];
  const textOf = (part: SuggestPart): string => texts[part]?.trim() ?? '';
  const fault = (part: SuggestPart, allowed: string, wrong: SuggestFault['wrong']): undefined => {
    faults.push({ path: part, found: `“${textOf(part)}”`, allowed, wrong });
  };
  /** A part that is not given is left to its usual value. */
  const read = <T>(
    part: SuggestPart,
    usual: T,
    reader: (text: string) => T | undefined,
    allowed: string,
  ): T => {
    const text = textOf(part);
    if (text === '') return usual;
    const value = reader(text);
    if (value === undefined) fault(part, allowed, 'unreadable');
    return value ?? usual;
  };
  const chords = (part: 'want' | 'keep'): Chord[] => {
    const result = readChords(setup, textOf(part));
    if (result.ok) return result.value;
    faults.push({ path: part, ...result.error, wrong: 'impossible' });
    return [];
  };

  const given = textOf('station');
  const station =
    setup.controls.find(({ id }) => id === given && !isStation(given))?.station ?? given;
  if (!isStation(station))
    fault(
      'station',
      `a station (${STATIONS.join(', ')}) or the id of a control`,
      given === '' ? 'unreadable' : 'impossible',
    );
  const stringsUpTo = read(
    'upto',
    MOST_STRINGS,
    (text) => readWhole(text, 1, MOST_STRINGS),
    `1 to ${MOST_STRINGS} strings`,
  );
  const wanted = chords('want');
  const keep = chords('keep');
  const strings = 'strings of this setup, such as 5,10; on a second neck 2.5';
  const must = read<StringPlace[]>('must', [], (text) => readPlaces(setup, text), strings);
  const never = read<StringPlace[]>('never', [], (text) => readPlaces(setup, text), strings);
  if (must.length > stringsUpTo)
    fault('must', `at most ${stringsUpTo} of them, as many as are moved`, 'impossible');
  if (must.some((a) => never.some((b) => a.neck === b.neck && a.string === b.string)))
    fault('never', 'other strings than those that must be moved', 'impossible');
  const neck = read<number | undefined>(
    'neck',
    undefined,
    (text) => readWhole(text, 1, setup.necks.length),
    setup.necks.length === 1 ? '1, the only neck' : `a neck, 1 to ${setup.necks.length}`,
  );
  const usual = usualShapes(setup);
  const sizes = read(
    'sizes',
    usual.sizes,
    (text) => readRange(text, SIZES),
    `a number of strings or a range such as 3-4, within ${SIZES.join('-')}`,
  );

  if (faults.length > 0 || !isStation(station)) return refuse(faults);
  return ok({
    control: { id: idAt(setup, station), station },
    stringsUpTo,
    wishes: wanted.length === 0 ? repertoire : wanted.map((chord) => ({ ...chord, weight: 1 })),
    keep,
    must,
    never,
    ...(neck === undefined ? {} : { neck }),
    ranges,
    sizes,
    slants: usual.slants,
    limit,
  });
}
