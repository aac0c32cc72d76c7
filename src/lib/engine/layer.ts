/**
 * All candidates for one chord: every voicing in every one of its ways, in flat columns, ordered by
 * effort, then neck, fret, slant, strings and ways. A candidate is known by its index in this order.
 */
import { chromaOf, type Midi } from '$lib/theory/pitch';
import type { Choice } from '$lib/setup/reach';
import { find, type WantedNote, type WantedSet } from '$lib/search/find';
import type { Grip } from '$lib/search/grip';
import type { Bar } from '$lib/search/hold';
import type { NutIndex } from '$lib/search/nutIndex';
import { PER_UNIT } from '$lib/effort/effort';
import { GRIP_WEIGHTS, type WayBalance } from '$lib/effort/weights';
import type { Instrument } from './instrument';

/** Most strings of a grip; the stride of `pitches`. */
export const STRIDE = 6;

/** Bar and legs together; candidates that share them lie side by side. */
export interface Position extends Bar {
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
  /** By candidate: its index in `positions`. */
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
  readonly prefer: ReadonlySet<Grip>;
  readonly avoid: ReadonlySet<Grip>;
}

/** A candidate before it has its number. */
interface Draft {
  readonly index: NutIndex;
  readonly voicing: number;
  readonly fret: number;
  readonly slant: number;
  /** The number of its combination. */
  readonly way: number;
  readonly effort: number;
  readonly wish: number;
  readonly grip: number;
}

/** What wishes about grips add to the effort of one, in thousandths. */
const wishPrice = ({ prefer, avoid }: LayerQuestion, grip: Grip): number =>
  Math.round(
    PER_UNIT *
      ((prefer.size > 0 && !prefer.has(grip) ? GRIP_WEIGHTS.notPreferred : 0) +
        (avoid.has(grip) ? GRIP_WEIGHTS.avoided : 0)),
  );

const byRank = (a: Draft, b: Draft): number =>
  a.effort - b.effort ||
  a.index.on.neck - b.index.on.neck ||
  a.fret - b.fret ||
  a.slant - b.slant ||
  a.voicing - b.voicing ||
  a.way - b.way;

/** Every candidate on some necks. */
export function layerOf(
  instrument: Instrument,
  indexes: readonly NutIndex[],
  question: LayerQuestion,
): Layer {
  const drafts: Draft[] = [];
  const [highest, ...alsoHighest] = question.highest;
  for (const index of indexes) {
    // notes that are to be on top all at once can only be had if they agree
    if (alsoHighest.some((note) => !agree(note, highest))) break;
    const price = instrument.prices(index, { balance: question.balance });
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
      const grip = index.grip[voicing] as number;
      const wish = wishPrice(question, grip);
      const bar = price.bar[index.slant[voicing] as number] as Uint32Array;
      const still = (bar[fret] as number) + price.picking(grip) + wish;
      for (const way of index.waysOf(voicing))
        drafts.push({
          index,
          voicing,
          fret,
          slant: index.slantAt(voicing)?.slant ?? 0,
          way,
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
  const chroma = (note: WantedNote): number => ('midi' in note ? chromaOf(note.midi) : note.chroma);
  return chroma(a) === chroma(b);
};

function columnsOf(drafts: readonly Draft[]): Layer {
  const count = drafts.length;
  const position = new Uint16Array(count);
  const positions: Position[] = [];
  const members: number[][] = [];
  const indexOf = new Map<string, number>();
  const pitches = new Uint8Array(count * STRIDE);
  const size = new Uint8Array(count);
  const top = new Uint8Array(count);
  drafts.forEach((draft, candidate) => {
    const { index, fret, slant, way } = draft;
    const key = `${index.on.neck}|${fret}|${slant}|${way}`;
    let at = indexOf.get(key);
    if (at === undefined) {
      indexOf.set(key, (at = positions.length));
      positions.push({
        neck: index.on.neck,
        fret,
        slant,
        engaged: index.on.engaged[way] ?? [],
        combination: way,
      });
      members.push([]);
    }
    position[candidate] = at;
    members[at]?.push(candidate);
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
const pitchesOf = ({ index, voicing, fret }: Draft): Midi[] =>
  index
    .pitchesAtNut(voicing)
    .map((pitch) => pitch + fret)
    .sort((a, b) => a - b);

/** The candidates that satisfy a test, in the same order; with the numbers that they had. */
export function narrowed(
  layer: Layer,
  isChosen: (candidate: number) => boolean,
): { readonly layer: Layer; readonly was: Int32Array } {
  const chosen: number[] = [];
  for (let candidate = 0; candidate < layer.count; candidate++)
    if (isChosen(candidate)) chosen.push(candidate);
  const was = Int32Array.from(chosen);
  const newIndex = new Map<number, number>();
  const positions: Position[] = [];
  const members: number[][] = [];
  const position = new Uint16Array(was.length);
  const pitches = new Uint8Array(was.length * STRIDE);
  was.forEach((old, candidate) => {
    const before = layer.position[old] as number;
    let at = newIndex.get(before);
    if (at === undefined) {
      newIndex.set(before, (at = positions.length));
      positions.push(layer.positions[before] as Position);
      members.push([]);
    }
    position[candidate] = at;
    members[at]?.push(candidate);
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

/** The rows of a column that are chosen. */
function rows<T extends Int32Array | Uint32Array | Uint16Array | Uint8Array>(
  column: T,
  was: Int32Array,
): T {
  const chosen = column.slice(0, was.length) as T;
  for (let at = 0; at < was.length; at++) chosen[at] = column[was[at] as number] as number;
  return chosen;
}
