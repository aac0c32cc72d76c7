/**
 * How clear every voicing of an index sounds, worked out when it is first asked for: the tones that lie
 * close stay as close wherever the bar carries them, and only near the nut can they be too low.
 */
import type { Midi } from '$lib/theory/pitch';
import { gripSize } from '$lib/search/grip';
import type { NutIndex } from '$lib/search/nutIndex';
import { clearFrom, closeTerms, lowTerms, splitTerms } from '$lib/effort/clarity';
import { thousandths } from '$lib/effort/effort';
import { EVEN, type Term } from '$lib/effort/weights';

const priceOf = (terms: readonly Term[]): number => thousandths(terms, 'clarity', EVEN);

/** By the strings of a grip that are split, in thousandths. */
const SPLITS = Int32Array.from({ length: 17 }, (_, many) => priceOf(splitTerms(many)));

/** The clarities of one index; an `Instrument` keeps those of its own. */
export class Clarities {
  readonly #index: NutIndex;
  /** By voicing: closeness in thousandths; −1 where it has not been asked for. */
  readonly #close: Int32Array;
  /** By voicing: the fret from which nothing in it is too low. */
  readonly #clearFrom: Uint8Array;

  constructor(index: NutIndex) {
    this.#index = index;
    this.#close = new Int32Array(index.count).fill(-1);
    this.#clearFrom = new Uint8Array(index.count);
  }

  /** Thousandths for what lies close or low in a voicing at a fret, before any balance. */
  at(voicing: number, fret: number): number {
    let close = this.#close[voicing] as number;
    if (close < 0) {
      const atNut = this.#atNut(voicing);
      this.#close[voicing] = close = priceOf(closeTerms(atNut));
      this.#clearFrom[voicing] = clearFrom(atNut);
    }
    if (fret >= (this.#clearFrom[voicing] as number)) return close;
    return close + priceOf(lowTerms(this.#atNut(voicing).map((pitch) => pitch + fret)));
  }

  /** Thousandths for the strings of a voicing that stand between a raise and a lower in one of its ways. */
  splitIn(voicing: number, way: number): number {
    const split = (this.#index.on.splits[way] as number) & (this.#index.grip[voicing] as number);
    return split === 0 ? 0 : (SPLITS[gripSize(split)] as number);
  }

  #atNut(voicing: number): Midi[] {
    return this.#index.pitchesAtNut(voicing).sort((a, b) => a - b);
  }
}
