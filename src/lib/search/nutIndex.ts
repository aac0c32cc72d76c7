/**
 * Every different voicing of a neck at the nut, found once. The bar transposes everything, so a
 * chord at fret f is a look-up of the set moved down by f.
 */
import type { Midi } from '$lib/theory/pitch';
import { isPedal, type Setup } from '$lib/setup/setup';
import type { NeckCombinations } from './combinations';
import type { SlantedGrip } from './slants';

/** What an index holds, in flat columns. */
interface IndexColumns {
  readonly on: NeckCombinations;
  readonly open: readonly Midi[];
  /** Fewest and most strings of a grip. */
  readonly sizes: readonly [number, number];
  /** Voicings at the nut, numbered from 0: ascending by strings, straight before slanted, easy first. */
  readonly count: number;
  /** By voicing: the strings. */
  readonly grip: Uint16Array;
  /** By voicing: the easiest combination that gives it. */
  readonly combination: Uint32Array;
  /** By voicing: 0 under a straight bar, n under slant `slants[n − 1]`. */
  readonly slant: Uint16Array;
  readonly slants: readonly SlantedGrip[];
  /** Voicings grouped by pitch-class set: those of set p at `byPcs[from[p]] … byPcs[from[p + 1] − 1]`. */
  readonly from: Uint32Array;
  readonly byPcs: Uint32Array;
}

/** Below every pitch. */
const UNKNOWN = -(2 ** 15);

/** Every voicing of a neck at the nut. */
export class NutIndex implements IndexColumns {
  readonly on: NeckCombinations;
  readonly open: readonly Midi[];
  readonly sizes: readonly [number, number];
  readonly count: number;
  readonly grip: Uint16Array;
  readonly combination: Uint32Array;
  readonly slant: Uint16Array;
  readonly slants: readonly SlantedGrip[];
  readonly from: Uint32Array;
  readonly byPcs: Uint32Array;
  readonly #ways: (readonly number[] | undefined)[] = [];
  readonly #pitches: Int16Array;
  /** By voicing: its lowest and its highest pitch, side by side; `UNKNOWN` until it is asked for. */
  #compass: Int16Array | undefined;

  constructor(columns: IndexColumns) {
    this.on = columns.on;
    this.open = columns.open;
    this.sizes = columns.sizes;
    this.count = columns.count;
    this.grip = columns.grip;
    this.combination = columns.combination;
    this.slant = columns.slant;
    this.slants = columns.slants;
    this.from = columns.from;
    this.byPcs = columns.byPcs;
    this.#pitches = new Int16Array(columns.on.strings);
  }

  /** The slant that a voicing stands under; `undefined` under a straight bar. */
  slantAt(voicing: number): SlantedGrip | undefined {
    return this.slants[(this.slant[voicing] as number) - 1];
  }

  /** The ways of a voicing as numbers of combinations, cheapest first; worked out once. */
  waysOf(voicing: number): readonly number[] {
    return (this.#ways[voicing] ??= this.on.waysLike(
      this.combination[voicing] as number,
      this.grip[voicing] as number,
    ));
  }

  /**
   * What a voicing sounds with the bar at the nut, written string by string from the far one: the open
   * string, what its combination moves it by, and the frets by which a slanted bar is ahead there.
   *
   * @returns how many strings that are
   */
  #sound(voicing: number, into: Int16Array | Uint8Array, at = 0, fret = 0): number {
    const { on, open } = this;
    const { strings, moves } = on;
    const row = (this.combination[voicing] as number) * strings;
    const slant = this.slant[voicing] as number;
    const ahead = slant === 0 ? undefined : this.slants[slant - 1]?.ahead;
    let stop = 0;
    for (let s = 0, rest = this.grip[voicing] as number; rest !== 0; s++, rest >>= 1) {
      if ((rest & 1) === 0) continue;
      const pitch = (open[s] as number) + (moves[row + s] as number);
      into[at + stop] = fret + (ahead === undefined ? pitch : pitch + (ahead[stop] as number));
      stop++;
    }
    return stop;
  }

  /** Writes the pitch of each string of a voicing, far string first, with the bar at a fret, into a list from a place on. */
  soundInto(voicing: number, fret: number, into: Uint8Array, at: number): void {
    this.#sound(voicing, into, at, fret);
  }

  /** The pitch of each string of a voicing, far string first, with the bar at the nut. */
  pitchesAtNut(voicing: number): Midi[] {
    const many = this.#sound(voicing, this.#pitches);
    return Array.from(this.#pitches.subarray(0, many));
  }

  /**
   * The same pitches low to high, for loops: good until the index is asked for the next voicing.
   *
   * @returns how many they are; they stand in `ascending` from 0 on
   */
  soundAscending(voicing: number): number {
    const pitches = this.#pitches;
    const many = this.#sound(voicing, pitches);
    // sorted by insertion: there are six at most, and mostly they fall from string to string
    for (let i = 1; i < many; i++) {
      const pitch = pitches[i] as number;
      let to = i;
      for (; to > 0 && (pitches[to - 1] as number) > pitch; to--)
        pitches[to] = pitches[to - 1] as number;
      pitches[to] = pitch;
    }
    return many;
  }

  /** Where `soundAscending` writes. */
  get ascending(): Int16Array {
    return this.#pitches;
  }

  /** The lowest pitch of a voicing with the bar at the nut; a search asks for it fret by fret. */
  lowestOf(voicing: number): Midi {
    const known = (this.#compass ??= new Int16Array(2 * this.count).fill(UNKNOWN));
    const low = known[2 * voicing] as number;
    if (low !== UNKNOWN) return low;
    const many = this.soundAscending(voicing);
    known[2 * voicing + 1] = this.#pitches[many - 1] as number;
    return (known[2 * voicing] = this.#pitches[0] as number);
  }

  /** The highest one. */
  highestOf(voicing: number): Midi {
    this.lowestOf(voicing);
    return this.#compass?.[2 * voicing + 1] as number;
  }
}

export interface IndexOptions {
  /** 1 … 6; default 3 to 4. */
  readonly sizes?: readonly [number, number];
  /** Default: on where the setup has no pedals. */
  readonly slants?: boolean;
  /** Only these strings, numbered from 1. */
  readonly strings?: readonly number[];
}

/** Grips as they are looked for where nothing is said. */
export const USUAL_SIZES: readonly [number, number] = [3, 4];

/** Slants are everyday where there are no pedals, and rare where there are. */
export const slantsByDefault = (setup: Setup): boolean =>
  !setup.controls.some(({ station }) => isPedal(station));
