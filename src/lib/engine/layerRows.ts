/**
 * The voicings of a chord at their frets, neck by neck, before it is told in which ways they can be played: what
 * each is, sounds, and asks of the bar, once for all its ways.
 */
import { find, type WantedNote, type WantedSet } from '$lib/search/find';
import type { Grip } from '$lib/search/grip';
import type { NutIndex } from '$lib/search/nutIndex';
import { barTerms, heightTerms } from '$lib/effort/bar';
import { thousandths } from '$lib/effort/effort';
import type { Prices } from '$lib/effort/prices';
import type { WayBalance } from '$lib/effort/weights';
import type { Clarities } from './clarities';
import type { Instrument } from './instrument';
import { Cached } from './memo';

/** Most strings of a grip; the stride of `pitches`. */
export const STRIDE = 6;

/** What is asked of a chord's candidates. */
export interface LayerQuestion {
  readonly sets: readonly WantedSet[];
  readonly lowest: readonly WantedNote[];
  readonly highest: readonly WantedNote[];
  readonly frets: readonly [number, number];
  readonly balance: WayBalance;
  readonly prefer: ReadonlySet<Grip>;
  readonly avoid: ReadonlySet<Grip>;
}

/** Voicings of one neck at their frets, a row each; ascending by fret, slant and number. */
export interface Rows {
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
/** The voicing in a row's key. */
export const voicingIn = (key: number): number => key % VOICINGS;
/** The bar's place in a row's key, as a number: rows of one place lie side by side. */
export const barIn = (key: number): number => Math.floor(key / VOICINGS);
const slantIn = (key: number): number => (Math.floor(key / VOICINGS) % SLANTS) - 2;
/** The fret in a row's key. */
export const fretIn = (key: number): number => Math.floor(key / (VOICINGS * SLANTS));

/** What can be played on one neck, before it is told in which ways. */
export function rowsOn(instrument: Instrument, index: NutIndex, question: LayerQuestion): Rows {
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

/** What each row is and sounds, for all ways of its voicing; `neck` counts the necks searched from 0. */
export function soundingOf(necks: readonly Rows[], rows: number) {
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
