/** A card as it is asked this time: at a fret, on a root, with its choices. */
import { intervalName } from '$lib/theory/intervalName';
import { defaultMatch } from '$lib/theory/allowedSets';
import type { Chord } from '$lib/theory/chord';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { chromaOf, type Chroma, type Midi } from '$lib/theory/pitch';
import { commonRoot } from '$lib/theory/spelling';
import { chordWith } from '$lib/theory/wantedType';
import { unreachable } from '$lib/setup/reach';
import type { Engaged, Setup } from '$lib/setup/setup';
import { pitchesOf, type Hold } from '$lib/search/hold';
import { slantsByDefault } from '$lib/search/nutIndex';
import { EVEN } from '$lib/effort/weights';
import { compile } from '$lib/engine/instrument';
import { rankedVoicings } from '$lib/engine/rankedVoicings';
import type { Card } from './cards';
import { fretOfTurn } from './frets';
import { chordAt, holdAt, says } from './position';

/** A hold, and what holding it asks. */
export interface EasiestHold {
  readonly hold: Hold;
  readonly effort: number;
}

/** Lay down a chord with a note on top between two frets. */
export interface FindTask {
  readonly kind: 'find';
  readonly chord: Chord;
  readonly neck: number;
  readonly top: Chroma;
  readonly frets: readonly [number, number];
  /** Where the course has it. */
  readonly hold: Hold;
  readonly easiest: EasiestHold;
}
/** Lay down a chord, coming from a position. */
export interface MoveTask {
  readonly kind: 'move';
  readonly from: Hold;
  readonly fromChord: Chord;
  readonly chord: Chord;
  readonly neck: number;
  readonly frets: readonly [number, number];
  readonly hold: Hold;
  readonly easiest: EasiestHold;
}
/** What a hold sounds is named. */
export interface NameTask {
  readonly kind: 'name';
  readonly hold: Hold;
  readonly chord: Chord;
  /** Chords, of which one is what sounds. */
  readonly choices: readonly Chord[];
  readonly right: number;
}
/** What is heard is told. */
export type HearTask = {
  readonly kind: 'hear';
  /** Played one after the other. */
  readonly plays: readonly Hold[];
  readonly chord: Chord;
  readonly right: number;
} & (
  | { readonly of: 'type' | 'interval'; readonly choices: readonly string[] }
  | { readonly of: 'pull'; readonly choices: readonly Engaged[] }
);
/** A grip is played so that every string is within so many cents. */
export interface TuneTask {
  readonly kind: 'tune';
  readonly hold: Hold;
  readonly chord: Chord;
  readonly cents: number;
}
/** What is asked. */
export type Task = FindTask | MoveTask | NameTask | HearTask | TuneTask;

/** Of so many answers one is right. */
export const CHOICES = 4;
/** Frets to either side of the course's own where an answer counts: a hand's breadth. */
const REGION = 2;
/** Within so many cents a grip counts as in tune: what players reach with care, in the trade's own reckoning. */
export const IN_TUNE_CENTS = 10;

/** A number from a text, the same every time, to vary what is asked without chance (FNV-1a). */
function seedOf(text: string): number {
  let seed = 0x811c9dc5;
  for (const sign of text) seed = Math.imul(seed ^ (sign.codePointAt(0) ?? 0), 0x01000193) >>> 0;
  return seed >>> 3;
}

/** The right one among the others, at a place that varies by the seed. */
function mixed<T>(
  right: T,
  wrong: readonly T[],
  seed: number,
): { readonly choices: readonly T[]; readonly right: number } {
  const others = wrong.slice(0, CHOICES - 1);
  const place = seed % (others.length + 1);
  return { choices: [...others.slice(0, place), right, ...others.slice(place)], right: place };
}

/** The easiest way to say a chord within limits; the course's own where the search knows none. */
function easiestOf(
  setup: Setup,
  chord: Chord,
  { hold, effort }: EasiestHold,
  frets: readonly [number, number],
  top?: Chroma,
): EasiestHold {
  const found = rankedVoicings(compile(setup), {
    chord,
    necks: [hold.neck],
    frets,
    sizes: [3, 4],
    match: defaultMatch(chord),
    without: [],
    slants: slantsByDefault(setup),
    balance: EVEN,
    ...(top === undefined ? {} : { top: { chroma: top } }),
  });
  if (found.count === 0) return { hold, effort };
  const { voicing, effort: least } = found.at(0);
  const { neck, fret, slant, strings, ways } = voicing;
  return { hold: { neck, fret, slant, strings, engaged: ways[0] ?? [] }, effort: least.total };
}

/** Frets around one, on the neck. */
const regionOf = (setup: Setup, fret: number): readonly [number, number] => [
  Math.max(0, fret - REGION),
  Math.min(setup.frets, fret + REGION),
];

function findTask(setup: Setup, { position }: Card, turn: number): FindTask {
  const fret = fretOfTurn(setup, [position], turn);
  const hold = holdAt(position, fret);
  const chord = chordAt(position, fret);
  const top = chromaOf(Math.max(...pitchesOf(setup, hold)));
  const frets = regionOf(setup, fret);
  const own = { hold, effort: position.effort };
  const easiest = easiestOf(setup, chord, own, frets, top);
  return { kind: 'find', chord, neck: hold.neck, top, frets, hold, easiest };
}

function moveTask(setup: Setup, { position, from = position }: Card, turn: number): MoveTask {
  const fret = fretOfTurn(setup, [position, from], turn);
  const hold = holdAt(position, fret);
  const chord = chordAt(position, fret);
  const frets = regionOf(setup, fret);
  return {
    kind: 'move',
    from: holdAt(from, fret),
    fromChord: chordAt(from, fret),
    ...{ chord, neck: hold.neck, frets, hold },
    easiest: easiestOf(setup, chord, { hold, effort: position.effort }, frets),
  };
}

/** Roots that are taken for a chord's own by mistake, in semitones above it: fourth, fifth, relatives. */
const MISTAKEN_ROOTS = [5, 9, 7, 3, 2, 10] as const;

function nameTask(setup: Setup, { id, position }: Card, turn: number): NameTask {
  const fret = fretOfTurn(setup, [position], turn);
  const hold = holdAt(position, fret);
  const chord = chordAt(position, fret);
  const pitches = pitchesOf(setup, hold);
  const seed = seedOf(`${id}:${turn}`);
  const named = (above: number, type: string): Chord =>
    chordWith(commonRoot(chromaOf(position.root + fret + above), type), type);
  const types = EVERYDAY_REPERTOIRE.slice(0, 6).map(({ type }) => type);
  const wrong = [
    ...rotated(types, seed).map((type) => named(0, type)),
    ...rotated(MISTAKEN_ROOTS, seed).map((above) => named(above, position.type)),
  ].filter((each) => !says(pitches, each));
  // some of each: another type on the root, and the type on other roots
  const ofRoot = wrong.filter(({ type }) => type !== position.type);
  const others = wrong.filter(({ type }) => type === position.type);
  const told = [...ofRoot.slice(0, 2), ...others, ...ofRoot.slice(2)];
  return { kind: 'name', hold, chord, ...mixed(chord, told, seed) };
}

const rotated = <T>(all: readonly T[], by: number): T[] => {
  const at = all.length === 0 ? 0 : by % all.length;
  return [...all.slice(at), ...all.slice(0, at)];
};

/** Whether pitches say a type on any root: then it is no wrong answer to what type is heard. */
const saysType = (pitches: readonly Midi[], type: string): boolean =>
  Array.from({ length: 12 }, (_, root) => chordWith(commonRoot(root, type), type)).some((chord) =>
    says(pitches, chord),
  );

interface Heard {
  readonly hold: Hold;
  readonly chord: Chord;
  readonly seed: number;
}

function hearType(setup: Setup, { hold, chord, seed }: Heard): HearTask {
  const pitches = pitchesOf(setup, hold);
  const types = EVERYDAY_REPERTOIRE.map(({ type }) => type).filter(
    (type) => type !== chord.type && !saysType(pitches, type),
  );
  // near in use, so that nobody tells them apart by rarity alone
  const wrong = rotated(types.slice(0, 6), seed);
  return { kind: 'hear', of: 'type', plays: [hold], chord, ...mixed(chord.type, wrong, seed) };
}

/** Semitones by which a wrong interval is off, nearest first. */
const OFF = [1, -1, 2, -2, 3, 4, 5] as const;

function hearInterval(setup: Setup, { hold, chord, seed }: Heard): HearTask {
  const at = seed % (hold.strings.length - 1);
  const two = { ...hold, strings: hold.strings.slice(at, at + 2) };
  const [high = 0, low = 0] = pitchesOf(setup, two);
  const semitones = Math.abs(high - low);
  const wrong = OFF.map((off) => semitones + off)
    .filter((size) => size > 0)
    .map((size) => intervalName(0, size));
  const right = intervalName(low, high);
  return {
    kind: 'hear',
    of: 'interval',
    plays: [two],
    chord,
    ...mixed(right, wrong, seed),
  };
}

/** One of the controls is pressed while the strings ring: which? Nothing where too few would sound otherwise. */
function hearPull(setup: Setup, { hold, chord, seed }: Heard): HearTask | undefined {
  for (const pressed of rotated(hold.engaged, seed)) {
    const before = { ...hold, engaged: hold.engaged.filter(({ id }) => id !== pressed.id) };
    if (unreachable(setup, before.engaged) !== undefined) continue;
    const was = pitchesOf(setup, before).join();
    const is = pitchesOf(setup, hold).join();
    if (was === is) continue;
    const met = new Set([was, is]);
    const wrong: Engaged[] = [];
    for (const { id } of setup.controls) {
      if (hold.engaged.some((each) => each.id === id)) continue;
      const other: Engaged = { id, state: 'full' };
      const engaged = [...before.engaged, other];
      if (unreachable(setup, engaged) !== undefined) continue;
      const sounds = pitchesOf(setup, { ...hold, engaged }).join();
      if (met.has(sounds)) continue;
      met.add(sounds);
      wrong.push(other);
    }
    if (wrong.length < 2) continue;
    const plays = [before, hold];
    return {
      kind: 'hear',
      of: 'pull',
      plays,
      chord,
      ...mixed(pressed, rotated(wrong, seed), seed),
    };
  }
  return undefined;
}

function hearTask(setup: Setup, { id, position }: Card, turn: number): HearTask {
  const fret = fretOfTurn(setup, [position], turn);
  const heard = {
    hold: holdAt(position, fret),
    chord: chordAt(position, fret),
    seed: seedOf(`${id}:${turn}`),
  };
  // in turn: a pull where there is one, the type, an interval
  const asks = [hearPull, hearType, hearInterval];
  const ask = asks[turn % asks.length] ?? hearType;
  return ask(setup, heard) ?? hearType(setup, heard);
}

function tuneTask(setup: Setup, { position }: Card, turn: number): TuneTask {
  const fret = fretOfTurn(setup, [position], turn);
  const [hold, chord] = [holdAt(position, fret), chordAt(position, fret)];
  return { kind: 'tune', hold, chord, cents: IN_TUNE_CENTS };
}

const TASKS: {
  readonly [kind in Card['kind']]: (setup: Setup, card: Card, turn: number) => Task;
} = { find: findTask, name: nameTask, hear: hearTask, move: moveTask, tune: tuneTask };

/**
 * What a card asks this time.
 *
 * @param turn how often it was right before: it moves the bar, and varies the choices
 */
export const taskOf = (setup: Setup, card: Card, turn: number): Task =>
  TASKS[card.kind](setup, card, turn);
