/**
 * All candidates for one chord: every voicing in every one of its ways, in flat columns, ordered by
 * effort, then neck, fret, slant, strings and ways. A candidate is known by its index in this order.
 */
import { chromaOf } from '$lib/theory/pitch';
import type { Choice } from '$lib/setup/reach';
import { find, type WantedNote, type WantedSet } from '$lib/search/find';
import type { Grip } from '$lib/search/grip';
import type { Bar } from '$lib/search/hold';
import type { NutIndex } from '$lib/search/nutIndex';
import { barTerms, heightTerms } from '$lib/effort/bar';
import { PER_UNIT, thousandths } from '$lib/effort/effort';
import type { Prices } from '$lib/effort/prices';
import { GRIP_WEIGHTS, type WayBalance } from '$lib/effort/weights';
import type { Clarities } from './clarities';
import type { Instrument } from './instrument';
import { Cached } from './memo';
import { membersOf } from './members';

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

export interface LayerQuestion {
  readonly sets: readonly WantedSet[];
  readonly lowest: readonly WantedNote[];
  readonly highest: readonly WantedNote[];
  readonly frets: readonly [number, number];
  readonly balance: WayBalance;
  readonly prefer: ReadonlySet<Grip>;
  readonly avoid: ReadonlySet<Grip>;
}

/** What wishes about grips add to the effort of one, in thousandths. */
const wishPrice = ({ prefer, avoid }: LayerQuestion, grip: Grip): number =>
  Math.round(
    PER_UNIT *
      ((prefer.size > 0 && !prefer.has(grip) ? GRIP_WEIGHTS.notPreferred : 0) +
        (avoid.has(grip) ? GRIP_WEIGHTS.avoided : 0)),
  );

/** Voicings of one neck at their frets, a row each; ascending by fret, slant and number. */
interface Rows {
  readonly index: NutIndex;
  readonly prices: Prices;
  readonly clarities: Clarities;
  /** By slant number, then by fret: what a place asks of the bar in a piece, its height counted. */
  readonly bar: readonly Int32Array[];
  /** By row: fret, slant and voicing in one number. */
  readonly keys: Float64Array;
}

// a key of 53 bits: the voicing in 27, the slant from −2 in 3, the fret above
const VOICINGS = 2 ** 27;
const SLANTS = 8;
const voicingIn = (key: number): number => key % VOICINGS;
const slantIn = (key: number): number => (Math.floor(key / VOICINGS) % SLANTS) - 2;
const fretIn = (key: number): number => Math.floor(key / (VOICINGS * SLANTS));

/** What can be played on one neck, before it is told in which ways. */
function rowsOn(instrument: Instrument, index: NutIndex, question: LayerQuestion): Rows {
  const { sets, lowest, frets, balance } = question;
  const [highest] = question.highest;
  const top = question.highest.find((note) => 'midi' in note) ?? highest;
  const found = find(index, {
    sets,
    lowest,
    ...(top === undefined ? {} : { highest: top }),
    frets,
  });
  const keys = new Float64Array(found.count);
  for (let row = 0; row < found.count; row++) {
    const voicing = found.voicing[row] as number;
    const slant = index.slantAt(voicing)?.slant ?? 0;
    keys[row] = ((found.fret[row] as number) * SLANTS + slant + 2) * VOICINGS + voicing;
  }
  const prices = instrument.prices(index, { balance });
  return {
    index,
    prices,
    clarities: instrument.clarities(index),
    bar: barsOf(instrument, index, balance),
    keys: keys.sort(),
  };
}

/** By slant, and by what the bar counts: its price at each fret. */
const BARS = new Cached<Int32Array>(50);

function barsOf(instrument: Instrument, index: NutIndex, balance: WayBalance): Int32Array[] {
  const { setup } = instrument;
  const under = (slant: number): Int32Array =>
    instrument.once(BARS, `${slant} ${balance.bar}`, () =>
      Int32Array.from({ length: setup.frets + 1 }, (_, fret) => {
        const terms = [...barTerms(setup, fret, undefined, slant), ...heightTerms(fret)];
        return thousandths(terms, 'bar', balance);
      }),
    );
  const known = new Map<number, Int32Array>();
  return [undefined, ...index.slants].map((slanted) => {
    const slant = slanted?.slant ?? 0;
    const prices = known.get(slant) ?? under(slant);
    known.set(slant, prices);
    return prices;
  });
}

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
      const lies = Math.floor(key / VOICINGS);
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

/** What each row is and sounds, for all ways of its voicing; `neck` counts the necks searched from 0. */
function soundingOf(necks: readonly Rows[], rows: number) {
  const neck = new Uint8Array(rows);
  const fret = new Uint8Array(rows);
  const slant = new Int8Array(rows);
  const voicing = new Uint32Array(rows);
  const grip = new Uint16Array(rows);
  const size = new Uint8Array(rows);
  const pitches = new Uint8Array(rows * STRIDE);
  let row = 0;
  necks.forEach(({ index, keys }, searched) => {
    const { ascending } = index;
    for (const key of keys) {
      const own = voicingIn(key);
      const lies = fretIn(key);
      const many = index.soundAscending(own);
      for (let i = 0; i < many; i++) pitches[row * STRIDE + i] = (ascending[i] as number) + lies;
      neck[row] = searched;
      fret[row] = lies;
      slant[row] = slantIn(key);
      voicing[row] = own;
      grip[row] = index.grip[own] as number;
      size[row] = many;
      row++;
    }
  });
  return { neck, fret, slant, voicing, grip, size, pitches };
}
