/**
 * A question for pulls as it is written: short texts, from the command line's options and from the
 * page's address alike, read here and nowhere else.
 */
import { capacityRanges, roomFor } from '$lib/strings/rig/capacity';
import { ok, refuse, type Result } from '$lib/result';
import { chromaOf, chromaOfName } from '$lib/theory/pitch';
import { chordsMeant, chordWords } from '$lib/theory/chordWords';
import { chordMeant, readChord } from '$lib/theory/readChord';
import { idAt, isStation } from '$lib/setup/controlText';
import { STATIONS, type Setup, type Station } from '$lib/setup/setup';
import { MOST_STRINGS, type StringPlace, type StringRange } from '$lib/setup/candidates';
import { usualShapes } from '$lib/coverage/shapeOptions';
import type { Repertoire } from '$lib/theory/repertoire';
import type { SuggestQuestion } from '$lib/coverage/suggestion';
import type { TogetherQuestion } from '$lib/coverage/together';
import type { Wish } from '$lib/coverage/yardstick';
import { NECK, CHORD_SIZES, wholeOption } from './commonOptions';
import {
  readOptions,
  withoutForm,
  type OptionFault,
  type TextsOf,
  type PlainOption,
  type TellingOption,
} from './options';
import { readWhole } from './questionParts';

/** A question for pulls as it is written; every part but the station may be left out. */
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
/** The name of a part of it. */
export type SuggestPart = (typeof SUGGEST_PARTS)[number];
/** A question for pulls as texts, by part. */
export type SuggestTexts = TextsOf<SuggestPart>;
/** A fault in the question, under the part it is in. */
export type SuggestFault = OptionFault<SuggestPart>;

type Chord = Omit<Wish, 'weight'>;

/** Items with spaces or commas between them. */
const itemsOf = (text: string): string[] => text.split(/[\s,]+/).filter((item) => item !== '');

/**
 * Chords as `C7#9`, any of that type on any root, or as `F#m@3`: that chord with the bar at a fret,
 * which is the same as its root above the bar.
 */
function readChords(text: string, setup: Setup): ReturnType<TellingOption<Chord[]>['tell']> {
  const wrong = 'impossible';
  const chords: Chord[] = [];
  for (const item of chordWords(text)) {
    const [symbol = '', fret, ...more] = item.split('@');
    const read = readChord(symbol);
    if (!read.ok) {
      const { other } = read.error;
      const says = other === undefined ? '' : `; it ${chordMeant(other)}`;
      return refuse({
        found: `“${item}”`,
        allowed: `chord symbols such as Cm7b5 or F#m@3${says}`,
        wrong,
        meant: chordsMeant(text, read.error).map((each) => each.text),
      });
    }
    if (read.value === 'no chord' || read.value.bass !== undefined)
      return refuse({
        found: `“${item}”`,
        allowed: 'chords without another note in the bass',
        wrong,
      });
    const at = fret === undefined ? undefined : readWhole(fret, 0, setup.frets);
    if (more.length > 0 || (fret !== undefined && at === undefined))
      return refuse({
        found: `“${item}”`,
        allowed: `a chord, or a chord and the fret of the bar, 0 to ${setup.frets}, such as F#m@3`,
        wrong,
      });
    const { type, root } = read.value;
    chords.push(at === undefined ? { type } : { type, root: chromaOf(chromaOfName(root) - at) });
  }
  return ok(chords);
}

function readPlaces(text: string, setup: Setup): StringPlace[] | undefined {
  const places: StringPlace[] = [];
  for (const item of itemsOf(text)) {
    const match = /^(?:([1-3])\.)?(\d{1,2})$/.exec(item);
    const at = { neck: Number(match?.[1] ?? 1), string: Number(match?.[2]) };
    if (setup.necks[at.neck - 1]?.strings[at.string - 1] === undefined) return undefined;
    places.push(at);
  }
  return places;
}

/** A station, or the control whose station it is. */
const STATION: TellingOption<Station> = {
  needed: true,
  tell: (text, setup) => {
    const given = text.trim();
    const control = setup.controls.find(({ id }) => id === given && !isStation(given));
    const station = control?.station ?? given;
    if (isStation(station)) return ok(station);
    return refuse({
      found: `“${given}”`,
      allowed: `a station (${STATIONS.join(', ')}) or the id of a control`,
      wrong: given === '' ? 'unreadable' : 'impossible',
    });
  },
};

const CHORDS: TellingOption<Chord[]> = { tell: readChords };

const STRINGS: PlainOption<StringPlace[]> = {
  read: readPlaces,
  allowed: () => 'strings of this setup, such as 5,10; on a second neck 2.5',
};

/** What is moved, and what for. */
const PULLS = {
  station: STATION,
  upto: withoutForm(wholeOption([1, MOST_STRINGS], `1 to ${MOST_STRINGS} strings`)),
  want: CHORDS,
  keep: CHORDS,
  must: STRINGS,
  never: STRINGS,
};

/** Where it is looked for. */
const GROUND = { neck: withoutForm(NECK), sizes: withoutForm(CHORD_SIZES) };

/**
 * Reads a question; every fault in it is told. The repertoire counts where no chord is wanted; how
 * far the strings may be moved is told by whoever knows them.
 *
 * @param replaced the controls whose pulls make room for new ones, where these are more than that of the station
 */
export function readSuggestion(
  setup: Setup,
  texts: SuggestTexts,
  repertoire: Repertoire,
  limit: number,
  ranges: readonly StringRange[] = [],
  replaced?: readonly string[],
): Result<SuggestQuestion, readonly SuggestFault[]> {
  const pulls = readOptions(PULLS, setup, texts);
  const { station, upto: stringsUpTo = MOST_STRINGS } = pulls.values;
  const { want = [], keep = [], must = [], never = [] } = pulls.values;
  const ground = readOptions(GROUND, setup, texts);
  const { neck, sizes } = ground.values;

  const faults: SuggestFault[] = [...pulls.faults];
  const contradicts = (path: 'must' | 'never', allowed: string): void =>
    void faults.push({
      path,
      found: `“${texts[path]?.trim() ?? ''}”`,
      allowed,
      wrong: 'impossible',
    });
  if (must.length > stringsUpTo)
    contradicts('must', `at most ${stringsUpTo} of them, as many as are moved`);
  if (must.some((a) => never.some((b) => a.neck === b.neck && a.string === b.string)))
    contradicts('never', 'other strings than those that must be moved');
  faults.push(...ground.faults);

  if (faults.length > 0 || station === undefined) return refuse(faults);
  const usual = usualShapes(setup);
  const id = idAt(setup, station);
  // the order of the keys is part of what tells questions apart
  return ok({
    control: { id, station },
    stringsUpTo,
    wishes: want.length === 0 ? repertoire : want.map((chord) => ({ ...chord, weight: 1 })),
    keep,
    must,
    never,
    ...(neck === undefined ? {} : { neck }),
    ranges: [...ranges, ...capacityRanges(setup, ...(replaced ?? [id]))],
    sizes: sizes ?? usual.sizes,
    slants: usual.slants,
    limit,
  });
}

/** How many stations can be filled at once. */
const STATIONS_AT_ONCE: readonly [number, number] = [2, 3];

/**
 * Reads a question for several stations: their names or the ids of their controls, with commas or spaces
 * between them, in the part `station`; all else as for one, of which each of them has its own.
 */
export function readTogether(
  setup: Setup,
  texts: SuggestTexts,
  repertoire: Repertoire,
  limit: number,
  ranges: readonly StringRange[] = [],
): Result<TogetherQuestion, readonly SuggestFault[]> {
  const named = itemsOf(texts.station ?? '');
  // rods of all the controls that are replaced make room
  const replaced = named.flatMap((text) => {
    const station = STATION.tell(text, setup);
    return station.ok ? [idAt(setup, station.value)] : [];
  });
  const read = (named.length === 0 ? [''] : named).map((station) =>
    readSuggestion(setup, { ...texts, station }, repertoire, limit, ranges, replaced),
  );
  const wrong = new Map<string, SuggestFault>();
  const places: TogetherQuestion['places'][number][] = [];
  let rest: Omit<SuggestQuestion, 'control'> | undefined;
  for (const each of read)
    if (each.ok) {
      const { control, ...others } = each.value;
      places.push(control);
      rest = others;
    } else for (const fault of each.error) wrong.set(`${fault.path} ${fault.found}`, fault);
  const [fewest, most] = STATIONS_AT_ONCE;
  const different = new Set(places.map(({ station }) => station)).size;
  if (wrong.size === 0 && (different < fewest || different > most || different < places.length))
    return refuse([
      {
        path: 'station',
        found: `“${texts.station?.trim() ?? ''}”`,
        allowed: `${fewest} or ${most} different stations, such as RKV,P4`,
        wrong: 'impossible',
      },
    ]);
  if (wrong.size > 0 || rest === undefined) return refuse([...wrong.values()]);
  const room = roomFor(setup, replaced);
  return ok({ places, ...rest, ...(room.length === 0 ? {} : { room }) });
}
