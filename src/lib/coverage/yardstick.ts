/**
 * What a change is measured by: chords, each with what it counts, made ready for look-up by the
 * pitch classes that sound.
 */
import { sizeOf, transpose, type PcSet } from '$lib/theory/pcset';
import type { Chroma } from '$lib/theory/pitch';
import { wantedType } from '$lib/theory/wantedType';

/** A chord that counts: a type on every root, or on one root alone. An entry of a repertoire is one. */
export interface Wish {
  /** Canonical suffix of a chord type. */
  readonly type: string;
  /** Semitones from C with the bar at the nut; every root where left out. */
  readonly root?: Chroma | undefined;
  /** Only the proportions count; 0 is looked for and counts nothing. */
  readonly weight: number;
}

/**
 * A _chord number_ is a chord type on a root, as it lies with the bar at the nut: `type · 12 + root`.
 * The bar carries it up the neck. A _spot_ is a chord number with one tone on top:
 * `chord number · 12 + chroma`.
 */
export interface Yardstick {
  /** Canonical suffixes, each once, in the order of the wishes. */
  readonly types: readonly string[];
  /** Different tones of each type, which is how many of its spots can be filled. */
  readonly tones: readonly number[];
  /** By chord number: what each of its spots counts, a whole number. */
  readonly weight: Float64Array;
  /** Chord numbers that a pitch-class set says: rows `from[set]` … `from[set + 1] − 1`. */
  readonly from: Uint32Array;
  readonly chordNumber: Uint16Array;
  /** By row: 1 where the set leaves tones of the chord out. */
  readonly lean: Uint8Array;
  /** Worked out when it is first asked for. */
  readonly clear: ClearChords;
}

/** By pitch-class set: the chord numbers that it says clearly. */
export type ClearChords = readonly (readonly number[])[];

/** The weights of all spots on one root come to about this. Whole numbers add up exactly. */
export const WHOLE = 1e8;

/**
 * Makes wishes ready for look-up by what sounds. Weights are shared out among the wishes by their
 * proportions and evenly among the tones of a chord, in whole numbers, so that all spots on one root
 * come to about `WHOLE`; where all weights are 0, so are all shares. Throws where a type is none.
 */
export function yardstick(wishes: readonly Wish[]): Yardstick {
  const types = [...new Set(wishes.map(({ type }) => type))];
  const wanted = types.map(wantedType);
  const tones = wanted.map(({ chord }) => sizeOf(chord.pitchClasses));
  const whole = wishes.reduce((sum, { weight }) => sum + weight, 0);
  const weight = new Float64Array(types.length * 12);
  const wished = new Set<number>();
  for (const wish of wishes) {
    const type = types.indexOf(wish.type);
    const share = whole === 0 ? 0 : Math.round((WHOLE * wish.weight) / whole / (tones[type] ?? 1));
    for (let root = 0; root < 12; root++)
      if (wish.root === undefined || wish.root === root) {
        wished.add(type * 12 + root);
        weight[type * 12 + root] = (weight[type * 12 + root] ?? 0) + share;
      }
  }

  const rows = new Map<PcSet, [chordNumber: number, lean: 0 | 1][]>();
  wanted.forEach(({ sets }, type) => {
    for (const { set, missing } of sets)
      for (let root = 0; root < 12; root++) {
        if (!wished.has(type * 12 + root)) continue;
        const at = transpose(set, root);
        const row = rows.get(at) ?? [];
        rows.set(at, row);
        row.push([type * 12 + root, missing.length === 0 ? 0 : 1]);
      }
  });
  const from = new Uint32Array(4097);
  const flat: [number, 0 | 1][] = [];
  for (let set = 0; set < 4096; set++) {
    flat.push(...(rows.get(set) ?? []));
    from[set + 1] = flat.length;
  }
  let clear: ClearChords | undefined;
  return {
    types,
    tones,
    weight,
    from,
    chordNumber: Uint16Array.from(flat, ([chordNumber]) => chordNumber),
    lean: Uint8Array.from(flat, ([, lean]) => lean),
    get clear() {
      return (clear ??= clearChords({ types, weight }));
    },
  };
}

/**
 * A set says a chord clearly with every tone, or with the fifth alone missing from a chord that has a
 * seventh: third and seventh tell it. Complete chords come first, then the more used.
 */
function clearChords({ types, weight }: Pick<Yardstick, 'types' | 'weight'>): ClearChords {
  const complete: number[][] = Array.from({ length: 4096 }, () => []);
  const shells: number[][] = Array.from({ length: 4096 }, () => []);
  types.forEach((type, index) => {
    // a chord that must only not be lost is nothing to play the control for
    if (weight.subarray(index * 12, index * 12 + 12).every((each) => each === 0)) return;
    const { chord, sets } = wantedType(type);
    const hasSeventh = chord.tones.some(({ degree }) => /^b?7$/.test(degree));
    for (const { set, missing } of sets) {
      const shell = hasSeventh && missing.length === 1 && missing[0] === '5';
      if (missing.length > 0 && !shell) continue;
      for (let root = 0; root < 12; root++)
        (missing.length === 0 ? complete : shells)[transpose(set, root)]?.push(index * 12 + root);
    }
  });
  const often = (a: number, b: number): number =>
    (weight[b] as number) - (weight[a] as number) || a - b;
  return complete.map((whole, set) => [...whole.sort(often), ...(shells[set] ?? []).sort(often)]);
}

/** Does a set of pitch classes say any chord of the yardstick? */
export const counts = ({ from }: Yardstick, set: PcSet): boolean =>
  (from[set] as number) < (from[set + 1] as number);

/** The chord numbers that a set says, complete ones first. */
export function chordsSaid(by: Yardstick, set: PcSet): number[] {
  const rows: number[] = [];
  for (let row = by.from[set] as number; row < (by.from[set + 1] as number); row++) rows.push(row);
  rows.sort((a, b) => (by.lean[a] as number) - (by.lean[b] as number) || a - b);
  return rows.map((row) => by.chordNumber[row] as number);
}
