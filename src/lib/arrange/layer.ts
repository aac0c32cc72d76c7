/**
 * All candidates for one chord: every voicing in every one of its ways, in flat columns, ordered by
 * effort, then neck, fret, slant, strings and ways. A candidate is known by its place in this order.
 */
import type { Midi } from '$lib/theory/pitch';
import type { Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { waysLike } from '$lib/search/combinations';
import { find, slantAt, type WantedNote, type WantedSet } from '$lib/search/find';
import type { NutIndex } from '$lib/search/nutIndex';
import { barTerms } from '$lib/effort/bar';
import { PER_UNIT, thousandths } from '$lib/effort/effort';
import { feetTerms } from '$lib/effort/feet';
import type { BarPlace } from '$lib/effort/move';
import { pickingTerms } from '$lib/effort/picking';
import type { WayBalance } from '$lib/effort/weights';
import { WISH_WEIGHTS } from './wishes';

/** Most strings of a grip; the stride of `pitches`. */
export const STRIDE = 6;

/** Bar and legs together; candidates that share them lie side by side. */
export interface Position extends BarPlace {
  readonly engaged: Choice;
  /** The combination's number among all that can be reached. */
  readonly combination: number;
}

export interface Layer {
  readonly count: number;
  /** By candidate, in thousandths. */
  readonly effort: Int32Array;
  /** By candidate: what of its effort comes from wishes about grips, in thousandths. */
  readonly wish: Int32Array;
  /** By candidate: the strings, string s (from 0) in bit s. */
  readonly grip: Uint16Array;
  readonly size: Uint8Array;
  /** By candidate: its pitches ascending, at `candidate * STRIDE`. */
  readonly pitches: Uint8Array;
  /** By candidate: the highest of them. */
  readonly top: Uint8Array;
  /** By candidate: its place in `positions`. */
  readonly position: Uint16Array;
  readonly positions: readonly Position[];
  /** By position: its candidates. */
  readonly members: readonly Int32Array[];
  /** By candidate: the voicing it is, as its index numbers it. */
  readonly voicing: Uint32Array;
}

export interface LayerQuestion {
  readonly sets: readonly WantedSet[];
  readonly lowest: readonly WantedNote[];
  readonly highest: readonly WantedNote[];
  readonly frets: readonly [number, number];
  readonly balance: WayBalance;
  /** Grips as bits. */
  readonly prefer: ReadonlySet<number>;
  readonly avoid: ReadonlySet<number>;
}

/** The ways of an index's voicings and their pitches at the nut, made when first asked for. */
interface Nut {
  readonly ways: (readonly Choice[] | undefined)[];
  readonly number: ReadonlyMap<Choice, number>;
}

const nuts = new WeakMap<NutIndex, Nut>();

function nutOf(index: NutIndex): Nut {
  let nut = nuts.get(index);
  if (nut === undefined) {
    const number = new Map(index.on.engaged.map((engaged, place) => [engaged, place]));
    nuts.set(index, (nut = { ways: [], number }));
  }
  return nut;
}

/** The ways of a voicing, cheapest first. */
export function waysOf(index: NutIndex, voicing: number): readonly Choice[] {
  const { ways } = nutOf(index);
  return (ways[voicing] ??= waysLike(
    index.on,
    index.combination[voicing] as number,
    index.grip[voicing] as number,
  ));
}

export const gripBits = (strings: readonly number[]): number =>
  strings.reduce((bits, string) => bits | (1 << (string - 1)), 0);

export function stringsOf(grip: number): number[] {
  const strings: number[] = [];
  for (let s = 0; grip >> s !== 0; s++) if (grip & (1 << s)) strings.push(s + 1);
  return strings;
}

/** A candidate before it has its place. */
interface Draft {
  readonly index: NutIndex;
  readonly voicing: number;
  readonly fret: number;
  readonly slant: number;
  readonly way: Choice;
  readonly wayNumber: number;
  readonly effort: number;
  readonly wish: number;
  readonly grip: number;
}

/** Prices that depend on one thing each, looked up instead of added up anew. */
function prices(
  setup: Setup,
  question: LayerQuestion,
): {
  feet: (way: Choice) => number;
  bar: (fret: number, slant: number) => number;
  picking: (neck: number, grip: number) => number;
  wish: (grip: number) => number;
} {
  const { balance, prefer, avoid } = question;
  const feet = new Map<Choice, number>();
  const bar = new Map<number, number>();
  const picking = new Map<number, number>();
  const remember = <K>(known: Map<K, number>, key: K, make: () => number): number => {
    let value = known.get(key);
    if (value === undefined) known.set(key, (value = make()));
    return value;
  };
  return {
    feet: (way) => remember(feet, way, () => thousandths(feetTerms(setup, way), 'feet', balance)),
    bar: (fret, slant) =>
      remember(bar, fret * 8 + slant, () =>
        thousandths(barTerms(setup, fret, undefined, slant), 'bar', balance),
      ),
    picking: (neck, grip) =>
      remember(picking, neck * 65536 + grip, () => {
        const on = setup.necks[neck - 1];
        if (on === undefined) throw new Error(`neck ${neck} of a setup with ${setup.necks.length}`);
        return thousandths(pickingTerms(on, stringsOf(grip)), 'picking', balance);
      }),
    wish: (grip) => {
      const against =
        (prefer.size > 0 && !prefer.has(grip) ? WISH_WEIGHTS.notPreferred : 0) +
        (avoid.has(grip) ? WISH_WEIGHTS.avoided : 0);
      return Math.round(against * PER_UNIT);
    },
  };
}

const byRank = (a: Draft, b: Draft): number =>
  a.effort - b.effort ||
  a.index.on.neck - b.index.on.neck ||
  a.fret - b.fret ||
  a.slant - b.slant ||
  a.voicing - b.voicing ||
  a.wayNumber - b.wayNumber;

/** Every candidate on some necks. */
export function layerOf(
  setup: Setup,
  indexes: readonly NutIndex[],
  question: LayerQuestion,
): Layer {
  const price = prices(setup, question);
  const drafts: Draft[] = [];
  const [highest, ...alsoHighest] = question.highest;
  for (const index of indexes) {
    const { number } = nutOf(index);
    // notes that are to be on top all at once can only be had if they agree
    if (alsoHighest.some((note) => !agree(note, highest))) break;
    const top = [highest, ...alsoHighest].find((note) => note && 'midi' in note) ?? highest;
    const found = find(index, {
      sets: question.sets,
      lowest: question.lowest,
      ...(top === undefined ? {} : { highest: top }),
      frets: question.frets,
    });
    for (let i = 0; i < found.count; i++) {
      const voicing = found.voicing[i] as number;
      const fret = found.fret[i] as number;
      const slant = slantAt(index, voicing)?.slant ?? 0;
      const grip = index.grip[voicing] as number;
      const wish = price.wish(grip);
      const still = price.bar(fret, slant) + price.picking(index.on.neck, grip) + wish;
      for (const way of waysOf(index, voicing))
        drafts.push({
          index,
          voicing,
          fret,
          slant,
          way,
          wayNumber: number.get(way) ?? 0,
          effort: still + price.feet(way),
          wish,
          grip,
        });
    }
  }
  drafts.sort(byRank);
  return columnsOf(drafts);
}

/** Can two notes be the same? */
const agree = (a: WantedNote, b: WantedNote | undefined): boolean => {
  if (b === undefined) return true;
  if ('midi' in a && 'midi' in b) return a.midi === b.midi;
  const chroma = (note: WantedNote): number => ('midi' in note ? note.midi % 12 : note.chroma);
  return chroma(a) === chroma(b);
};

function columnsOf(drafts: readonly Draft[]): Layer {
  const count = drafts.length;
  const position = new Uint16Array(count);
  const positions: Position[] = [];
  const members: number[][] = [];
  const placeOf = new Map<string, number>();
  const pitches = new Uint8Array(count * STRIDE);
  const size = new Uint8Array(count);
  const top = new Uint8Array(count);
  drafts.forEach((draft, candidate) => {
    const { index, fret, slant, way, wayNumber } = draft;
    const key = `${index.on.neck}|${fret}|${slant}|${wayNumber}`;
    let place = placeOf.get(key);
    if (place === undefined) {
      placeOf.set(key, (place = positions.length));
      positions.push({ neck: index.on.neck, fret, slant, engaged: way, combination: wayNumber });
      members.push([]);
    }
    position[candidate] = place;
    members[place]?.push(candidate);
    const own = pitchesOf(draft);
    size[candidate] = own.length;
    top[candidate] = own.at(-1) ?? 0;
    pitches.set(own, candidate * STRIDE);
  });
  return {
    count,
    effort: Int32Array.from(drafts, ({ effort }) => effort),
    wish: Int32Array.from(drafts, ({ wish }) => wish),
    grip: Uint16Array.from(drafts, ({ grip }) => grip),
    size,
    top,
    pitches,
    position,
    positions,
    members: members.map((each) => Int32Array.from(each)),
    voicing: Uint32Array.from(drafts, ({ voicing }) => voicing),
  };
}

/** Ascending. */
function pitchesOf({ index, voicing, fret, grip }: Draft): Midi[] {
  const { on, open } = index;
  const row = (index.combination[voicing] as number) * on.strings;
  const ahead = slantAt(index, voicing)?.ahead;
  return stringsOf(grip)
    .map(
      (string, stop) =>
        (open[string - 1] ?? 0) + (on.moves[row + string - 1] ?? 0) + fret + (ahead?.[stop] ?? 0),
    )
    .sort((a, b) => a - b);
}

/** The candidates that satisfy a test, in the same order; with the places that they had. */
export function narrowed(
  layer: Layer,
  keeps: (candidate: number) => boolean,
): { readonly layer: Layer; readonly was: Int32Array } {
  const kept: number[] = [];
  for (let candidate = 0; candidate < layer.count; candidate++)
    if (keeps(candidate)) kept.push(candidate);
  const was = Int32Array.from(kept);
  const newPlace = new Map<number, number>();
  const positions: Position[] = [];
  const members: number[][] = [];
  const position = new Uint16Array(was.length);
  const pitches = new Uint8Array(was.length * STRIDE);
  was.forEach((old, candidate) => {
    const before = layer.position[old] as number;
    let place = newPlace.get(before);
    if (place === undefined) {
      newPlace.set(before, (place = positions.length));
      positions.push(layer.positions[before] as Position);
      members.push([]);
    }
    position[candidate] = place;
    members[place]?.push(candidate);
    pitches.set(layer.pitches.subarray(old * STRIDE, (old + 1) * STRIDE), candidate * STRIDE);
  });
  return {
    was,
    layer: {
      count: was.length,
      effort: rows(layer.effort, was),
      wish: rows(layer.wish, was),
      grip: rows(layer.grip, was),
      size: rows(layer.size, was),
      top: rows(layer.top, was),
      voicing: rows(layer.voicing, was),
      pitches,
      position,
      positions,
      members: members.map((each) => Int32Array.from(each)),
    },
  };
}

/** The rows of a column that are kept. */
function rows<T extends Int32Array | Uint32Array | Uint16Array | Uint8Array>(
  column: T,
  was: Int32Array,
): T {
  const kept = column.slice(0, was.length) as T;
  for (let place = 0; place < was.length; place++)
    kept[place] = column[was[place] as number] as number;
  return kept;
}
