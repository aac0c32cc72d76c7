/**
 * A first course for any setup: its positions, ten at a time, those first that players need most and that
 * ask least of the hands, each near to one that has come before it.
 */
import { EVERYDAY_REPERTOIRE, type Repertoire } from '$lib/theory/repertoire';
import { chromaOfName, noteName, chromaOf } from '$lib/theory/pitch';
import { defaultMatch } from '$lib/theory/allowedSets';
import { chordWith } from '$lib/theory/wantedType';
import type { Setup } from '$lib/setup/setup';
import { slantsByDefault } from '$lib/search/nutIndex';
import { controlChanges } from '$lib/effort/move';
import { EVEN } from '$lib/effort/weights';
import { compile } from '$lib/engine/instrument';
import { Cached } from '$lib/engine/memo';
import { rankedVoicings } from '$lib/engine/rankedVoicings';
import { shapeId, type CoursePosition, type Shape } from './position';

/** A course has at most so many: a year's work at one block of ten in five weeks. */
const MOST_POSITIONS = 100;
/** Of a chord type so many of the easiest voicings are looked at. */
const LOOKED_AT = 60;
/** Grips as they are picked, of three strings and of four. */
const SIZES = [3, 4] as const;
/**
 * What another grip at a position that is in the course already is worth beside a new position: a third, for
 * feet and bar know it and the picking hand alone has something to learn. Our own judgement.
 */
const SAME_PLACE_WORTH = 1 / 3;
/** Near is what changes at most so many controls, as many as one leg moves at once. */
export const MOST_CHANGES = 2;
/** Near is what changes at most so many strings of the grip: one finger's worth. */
export const MOST_STRINGS = 1;

/** What may come into the course. */
interface Candidate extends Omit<CoursePosition, 'near'> {
  /** Where it lies, whatever grip is picked there and whatever it is called. */
  readonly place: string;
}

/** How many strings of a grip the other one lacks, whichever lacks more. */
function stringsChanged(a: readonly number[], b: readonly number[]): number {
  let shared = 0;
  for (const string of a) if (b.includes(string)) shared++;
  return Math.max(a.length, b.length) - shared;
}

/** How many controls are pressed, let go or taken to or from a half-stop between two shapes. */
function controlsChanged(a: Shape, b: Shape): number {
  const { pressed, letGo, shifted } = controlChanges(a.engaged, b.engaged);
  return pressed.length + letGo.length + shifted.length;
}

/**
 * How far a shape is from another one, in changes of controls and strings; `undefined` where it is not near.
 * On another neck the only near ones are those of the bar alone.
 */
export function distance(from: Shape, to: Shape): number | undefined {
  if (from.neck !== to.neck) {
    const isBarAlone = [from, to].every(({ engaged, slant }) => engaged.length + slant === 0);
    return isBarAlone ? MOST_CHANGES + MOST_STRINGS : undefined;
  }
  const strings = stringsChanged(from.strings, to.strings);
  const turned = Math.abs(from.slant - to.slant);
  if (strings > MOST_STRINGS || turned > 1) return undefined;
  const controls = controlsChanged(from, to);
  if (controls > MOST_CHANGES) return undefined;
  return controls + strings + turned;
}

/** The easiest voicings of a chord type as candidates. */
function candidatesOf(setup: Setup, type: string, weight: number): Candidate[] {
  const chord = chordWith(noteName('C', 0), type);
  const found = rankedVoicings(compile(setup), {
    chord,
    necks: setup.necks.map((_, index) => index + 1),
    // an octave higher all comes again
    frets: [0, Math.min(11, setup.frets)],
    sizes: SIZES,
    match: defaultMatch(chord),
    without: [],
    slants: slantsByDefault(setup),
    balance: EVEN,
  });
  const candidates = new Map<string, Candidate>();
  for (let row = 0; row < found.count && candidates.size < LOOKED_AT; row++) {
    const { voicing, effort } = found.at(row);
    const { neck, fret, slant, strings, ways } = voicing;
    const root = chromaOf(chromaOfName(chord.root) - fret);
    const shape: Shape = { type, root, neck, slant, engaged: ways[0] ?? [], strings };
    const id = shapeId(shape);
    // the same shape an octave higher is the same to learn
    if (candidates.has(id)) continue;
    const place = shapeId({ ...shape, type: '', root: 0, strings: [] });
    candidates.set(id, { ...shape, id, effort: effort.total, weight, place });
  }
  return [...candidates.values()];
}

/** The nearest of the known ones; of several the one that was learned last. */
function nearestTo(known: readonly CoursePosition[], to: Shape): CoursePosition | undefined {
  let best: CoursePosition | undefined;
  let least = Infinity;
  for (const each of known) {
    const far = distance(each, to);
    if (far === undefined || far > least) continue;
    [best, least] = [each, far];
  }
  return best;
}

/** What a candidate adds, where its type and its place have come so often already. */
function worth(
  { type, place, weight, effort }: Candidate,
  types: ReadonlyMap<string, number>,
  places: ReadonlyMap<string, number>,
): number {
  // divided as seats are by highest averages (D'Hondt): a type comes as often as it is used
  const need = weight / (1 + (types.get(type) ?? 0));
  return (need / (1 + effort)) * SAME_PLACE_WORTH ** (places.get(place) ?? 0);
}

function madeCourse(setup: Setup, repertoire: Repertoire): readonly CoursePosition[] {
  const sum = repertoire.reduce((all, { weight }) => all + weight, 0);
  const left = new Set(
    repertoire.flatMap(({ type, weight }) => candidatesOf(setup, type, weight / sum)),
  );
  const course: CoursePosition[] = [];
  const [types, places] = [new Map<string, number>(), new Map<string, number>()];
  /** What lies near to something known. */
  const near = new Set<Candidate>();
  while (course.length < MOST_POSITIONS) {
    let best: Candidate | undefined;
    let most = 0;
    for (const each of course.length === 0 ? left : near) {
      // the first of all is the bar alone, where every player begins
      if (course.length === 0 && each.engaged.length + Math.abs(each.slant) > 0) continue;
      const value = worth(each, types, places);
      if (value > most) [best, most] = [each, value];
    }
    if (best === undefined) break;
    const { place, ...position } = best;
    const next = nearestTo(course, best);
    course.push({ ...position, ...(next === undefined ? {} : { near: next.id }) });
    for (const [counts, key] of [
      [types, best.type],
      [places, place],
    ] as const)
      counts.set(key, (counts.get(key) ?? 0) + 1);
    left.delete(best);
    near.delete(best);
    for (const each of left) if (distance(best, each) !== undefined) near.add(each);
  }
  return course;
}

const COURSES = new Cached<readonly CoursePosition[]>(4);

/**
 * The course of a setup: positions in the order in which they are learned, at most `MOST_POSITIONS`. Each but the
 * first names an earlier one that it is near to. Empty only where no chord of the repertoire lies under
 * the bar alone.
 *
 * @param repertoire what the player needs, by how often; the everyday one where left out
 */
export const courseOf = (
  setup: Setup,
  repertoire: Repertoire = EVERYDAY_REPERTOIRE,
): readonly CoursePosition[] =>
  compile(setup).once(COURSES, JSON.stringify(repertoire), () => madeCourse(setup, repertoire));
