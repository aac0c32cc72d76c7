/**
 * All candidates for one chord: every voicing in every one of its ways, in flat columns, ordered by
 * effort, then neck, fret, slant, strings and ways. A candidate is known by its index in this order.
 */
import { chromaOf } from '$lib/theory/pitch';
import type { Choice } from '$lib/setup/reach';
import type { WantedNote } from '$lib/search/find';
import type { Grip } from '$lib/search/grip';
import type { Bar } from '$lib/search/hold';
import type { NutIndex } from '$lib/search/nutIndex';
import { PER_UNIT } from '$lib/effort/effort';
import { GRIP_WEIGHTS } from '$lib/effort/weights';
import type { Instrument } from './instrument';
import {
  STRIDE,
  barIn,
  fretIn,
  rowsOn,
  soundingOf,
  voicingIn,
  type LayerQuestion,
  type Rows,
} from './layerRows';
import { membersOf } from './members';

export { STRIDE } from './layerRows';

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
  /** By candidate: what of its effort comes from engaging all that it needs, in thousandths. */
  readonly feet: Int32Array;
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

/** What wishes about grips add to the effort of one, in thousandths. */
const wishPrice = ({ prefer, avoid }: LayerQuestion, grip: Grip): number =>
  Math.round(
    PER_UNIT *
      ((prefer.size > 0 && !prefer.has(grip) ? GRIP_WEIGHTS.notPreferred : 0) +
        (avoid.has(grip) ? GRIP_WEIGHTS.avoided : 0)),
  );

/** Every candidate on some necks. */
export function layerOf(
  instrument: Instrument,
  indexes: readonly NutIndex[],
  question: LayerQuestion,
): Layer {
  const [highest, ...alsoHighest] = question.highest;
  // notes that are to be on top all at once can only be had if they agree
  const isPossible = alsoHighest.every((note) => agree(note, highest));
  const necks = isPossible ? indexes.map((index) => rowsOn(instrument, index, question)) : [];
  necks.sort((a, b) => a.index.on.neck - b.index.on.neck);
  return columnsOf(necks, draftsOf(necks, question));
}

/**
 * Candidates before they have their numbers: by neck, fret, slant, voicing and way. As they come in the
 * order in which equal efforts stand, effort and draft number together are the whole order.
 */
interface Drafts {
  readonly count: number;
  readonly effort: Int32Array;
  readonly feet: Int32Array;
  /** By draft: the row of its voicing, counted on from neck to neck. */
  readonly row: Uint32Array;
  /** By draft: its position, and by that its combination. */
  readonly position: Uint32Array;
  readonly combination: readonly number[];
  /** By row. */
  readonly wish: Int32Array;
}

function draftsOf(necks: readonly Rows[], question: LayerQuestion): Drafts {
  let count = 0;
  let rows = 0;
  for (const { index, keys } of necks) {
    rows += keys.length;
    for (const key of keys) count += index.waysOf(voicingIn(key)).length;
  }
  const effort = new Int32Array(count);
  const feet = new Int32Array(count);
  const row = new Uint32Array(count);
  const position = new Uint32Array(count);
  const wish = new Int32Array(rows);
  const combination: number[] = [];
  let draft = 0;
  let at = 0;
  for (const { index, prices, clarities, bar, keys } of necks) {
    // by combination: its position with the bar where it is; one below `begun` was of the bar before
    const positionOf = new Int32Array(index.on.engaged.length).fill(-1);
    let begun = combination.length;
    let before = -1;
    for (const key of keys) {
      const voicing = voicingIn(key);
      const grip = index.grip[voicing] as number;
      const lies = barIn(key);
      if (lies !== before) begun = combination.length;
      before = lies;
      const fret = fretIn(key);
      const place = bar[index.slant[voicing] as number]?.[fret] as number;
      const mud = Math.round(clarities.at(voicing, fret) * question.balance.clarity);
      const wished = (wish[at] = wishPrice(question, grip));
      const still = place + prices.picking(grip) + mud + wished;
      const ways = index.waysOf(voicing);
      for (let each = 0; each < ways.length; each++) {
        const way = ways[each] as number;
        let own = positionOf[way] as number;
        if (own < begun) {
          positionOf[way] = own = combination.length;
          combination.push(way);
        }
        feet[draft] = prices.feet(way);
        effort[draft] = still + (feet[draft] as number);
        row[draft] = at;
        position[draft] = own;
        draft++;
      }
      at++;
    }
  }
  return { count, effort, feet, row, position, combination, wish };
}

/** Can two notes be the same? */
const agree = (a: WantedNote, b: WantedNote | undefined): boolean => {
  if (b === undefined) return true;
  if ('midi' in a && 'midi' in b) return a.midi === b.midi;
  const chroma = (note: WantedNote): number => ('midi' in note ? chromaOf(note.midi) : note.chroma);
  return chroma(a) === chroma(b);
};

/** More drafts than there can be. */
const DRAFTS = 2 ** 32;

function columnsOf(necks: readonly Rows[], drafts: Drafts): Layer {
  const { count } = drafts;
  const order = new Float64Array(count);
  for (let draft = 0; draft < count; draft++)
    order[draft] = (drafts.effort[draft] as number) * DRAFTS + draft;
  order.sort();

  const sounding = soundingOf(necks, drafts.wish.length);
  const effort = new Int32Array(count);
  const wish = new Int32Array(count);
  const feet = new Int32Array(count);
  const grip = new Uint16Array(count);
  const size = new Uint8Array(count);
  const top = new Uint8Array(count);
  const pitches = new Uint8Array(count * STRIDE);
  const position = new Uint16Array(count);
  const voicing = new Uint32Array(count);
  const positions: Position[] = [];
  // positions are numbered in the order in which their first candidates stand
  const numberOf = new Int32Array(drafts.combination.length).fill(-1);
  for (let candidate = 0; candidate < count; candidate++) {
    const draft = (order[candidate] as number) % DRAFTS;
    const row = drafts.row[draft] as number;
    const own = drafts.position[draft] as number;
    let number = numberOf[own] as number;
    if (number < 0) {
      numberOf[own] = number = positions.length;
      const { index } = necks[sounding.neck[row] as number] as Rows;
      const combination = drafts.combination[own] as number;
      positions.push({
        neck: index.on.neck,
        fret: sounding.fret[row] as number,
        slant: sounding.slant[row] as number,
        engaged: index.on.engaged[combination] ?? [],
        combination,
      });
    }
    const many = sounding.size[row] as number;
    position[candidate] = number;
    effort[candidate] = drafts.effort[draft] as number;
    wish[candidate] = drafts.wish[row] as number;
    feet[candidate] = drafts.feet[draft] as number;
    grip[candidate] = sounding.grip[row] as number;
    voicing[candidate] = sounding.voicing[row] as number;
    size[candidate] = many;
    for (let i = 0; i < many; i++)
      pitches[candidate * STRIDE + i] = sounding.pitches[row * STRIDE + i] as number;
    top[candidate] = sounding.pitches[row * STRIDE + many - 1] as number;
  }
  const members = membersOf(position, positions.length);
  const sounds = { grip, size, top, pitches, voicing };
  return { count, effort, wish, feet, ...sounds, position, positions, members };
}
