/**
 * The search of a neck at the nut.
 *
 * Method: grips are walked depth-first, far string first. For every prefix of strings the distinct
 * combinations stand in classes of equal pitches; adding a string splits the classes. Work is one
 * step for each pair of grip and combination, shared prefixes are never walked again, and since the
 * combinations come cheapest first, the first of a class is its easiest. Refused: hashing the pitches
 * of each candidate (an order slower), and bit sets of combinations (slow for setups with thousands).
 */
import type { PcSet } from '$lib/theory/pcset';
import type { Midi } from '$lib/theory/pitch';
import { openMidi, type Setup } from '$lib/setup/setup';
import type { NeckCombinations } from './combinations';
import { gripOf, type Grip } from './grip';
import { NutIndex, USUAL_SIZES, slantsByDefault, type IndexOptions } from './nutIndex';
import { slantedGrips, type SlantedGrip } from './slants';

/** Columns that grow; a typed array each. */
class Columns {
  grip = new Uint16Array(1 << 13);
  combination = new Uint32Array(1 << 13);
  pcs = new Uint16Array(1 << 13);
  slant = new Uint16Array(1 << 13);
  count = 0;

  /** Makes room for `more` rows. */
  reserve(more: number): void {
    const needed = this.count + more;
    if (needed <= this.grip.length) return;
    const length = Math.max(needed, 2 * this.grip.length);
    const grown = <T extends Uint16Array | Uint32Array>(column: T, wider: T): T => {
      wider.set(column);
      return wider;
    };
    this.grip = grown(this.grip, new Uint16Array(length));
    this.combination = grown(this.combination, new Uint32Array(length));
    this.pcs = grown(this.pcs, new Uint16Array(length));
    this.slant = grown(this.slant, new Uint16Array(length));
  }
}

/** The different moves of each string, numbered; with the pitch-class bit that each number gives. */
interface StringCodes {
  /** By string: the code of every distinct combination. */
  readonly codes: readonly Uint8Array[];
  /** By string and code. */
  readonly bits: readonly Uint16Array[];
}

function stringCodes(on: NeckCombinations, open: readonly Midi[]): StringCodes {
  const codes: Uint8Array[] = [];
  const bits: Uint16Array[] = [];
  for (let s = 0; s < on.strings; s++) {
    const codeOf = new Map<number, number>();
    const column = new Uint8Array(on.distinct.length);
    on.distinct.forEach((combination, index) => {
      const move = on.moves[combination * on.strings + s] ?? 0;
      let code = codeOf.get(move);
      if (code === undefined) codeOf.set(move, (code = codeOf.size));
      column[index] = code;
    });
    codes.push(column);
    bits.push(Uint16Array.from(codeOf.keys(), (move) => 1 << (((open[s] ?? 0) + move) % 12)));
  }
  return { codes, bits };
}

/** Fills the columns with every voicing, grip by grip. */
function walkGrips(
  on: NeckCombinations,
  open: readonly Midi[],
  [fewest, most]: readonly [number, number],
  usable: number,
  slants: readonly SlantedGrip[],
  into: Columns,
): void {
  const { strings, distinct } = on;
  const many = distinct.length;
  const { codes, bits } = stringCodes(on, open);
  // by depth: the class of every combination, and the pitch classes of every class
  const classAt = Array.from({ length: most + 1 }, () => new Uint32Array(many));
  const pcsAt = Array.from({ length: most + 1 }, () => new Uint16Array(many));
  // split[class * 16 + code]: the new class. Classes are numbered on from step to step, so that one
  // below `begun` was left by an earlier step
  const split = new Uint32Array(many * 16);
  let born = 1;
  const slantsOf = new Map<number, number[]>();
  slants.forEach(({ grip }, index) =>
    slantsOf.set(grip, [...(slantsOf.get(grip) ?? []), index + 1]),
  );

  const extend = (depth: number, first: number, grip: number): void => {
    const classes = classAt[depth] as Uint32Array;
    const pcsOf = pcsAt[depth] as Uint16Array;
    const nextClasses = classAt[depth + 1] as Uint32Array;
    const nextPcs = pcsAt[depth + 1] as Uint16Array;
    const size = depth + 1;
    const lastSize = size === most;
    for (let s = first; s < strings; s++) {
      if ((usable & (1 << s)) === 0) continue;
      const code = codes[s] as Uint8Array;
      const bit = bits[s] as Uint16Array;
      const nextGrip = grip | (1 << s);
      const emits = size >= fewest;
      if (emits) into.reserve(many);
      const { grip: gripColumn, combination: combinationColumn, pcs: pcsColumn } = into;
      let row = into.count;
      const begun = born;
      for (let index = 0; index < many; index++) {
        const parent = classes[index] as number;
        const key = (parent << 4) | (code[index] as number);
        let child = split[key] as number;
        if (child < begun) {
          // first of its class, so the easiest combination for these pitches
          split[key] = child = born++;
          const pcs = (pcsOf[parent] as number) | (bit[key & 15] as number);
          nextPcs[child - begun] = pcs;
          if (emits) {
            gripColumn[row] = nextGrip;
            combinationColumn[row] = distinct[index] as number;
            pcsColumn[row] = pcs;
            row++;
          }
        }
        if (!lastSize) nextClasses[index] = child - begun;
      }
      into.count = row;
      for (const number of (slants.length > 0 && slantsOf.get(nextGrip)) || [])
        addSlanted(on, open, slants[number - 1] as SlantedGrip, number, into);
      if (!lastSize) extend(size, s + 1, nextGrip);
    }
  };
  extend(0, 0, 0);
}

/** Adds one grip's voicings under a slanted bar; few grips qualify, so plainness wins over speed. */
function addSlanted(
  on: NeckCombinations,
  open: readonly Midi[],
  { grip, ahead }: SlantedGrip,
  number: number,
  into: Columns,
): void {
  const met = new Set<string>();
  for (const combination of on.distinct) {
    let pcs = 0;
    let key = '';
    let stop = 0;
    for (let s = 0; s < on.strings; s++) {
      if ((grip & (1 << s)) === 0) continue;
      const move = on.moves[combination * on.strings + s] ?? 0;
      pcs |= 1 << (((open[s] ?? 0) + move + (ahead[stop++] ?? 0)) % 12);
      key += `${move},`;
    }
    if (met.has(key)) continue;
    met.add(key);
    into.reserve(1);
    into.grip[into.count] = grip;
    into.combination[into.count] = combination;
    into.pcs[into.count] = pcs;
    into.slant[into.count] = number;
    into.count++;
  }
}

/** Voicing numbers sorted by pitch-class set, and where each set begins (a counting sort). */
function groupByPcs(pcs: Uint16Array, count: number): { from: Uint32Array; byPcs: Uint32Array } {
  const from = new Uint32Array(4097);
  for (let row = 0; row < count; row++) {
    const next = (pcs[row] as number) + 1;
    from[next] = (from[next] as number) + 1;
  }
  for (let set: PcSet = 0; set < 4096; set++)
    from[set + 1] = (from[set + 1] as number) + (from[set] as number);
  const byPcs = new Uint32Array(count);
  const free = from.slice();
  for (let row = 0; row < count; row++) {
    const set = pcs[row] as number;
    const at = free[set] as number;
    byPcs[at] = row;
    free[set] = at + 1;
  }
  return { from, byPcs };
}

/** Searches the neck of a setup that the combinations are of. */
export function nutIndex(setup: Setup, on: NeckCombinations, options: IndexOptions = {}): NutIndex {
  const sizes = options.sizes ?? USUAL_SIZES;
  const [fewest, most] = sizes;
  if (!(fewest >= 1 && fewest <= most)) throw new Error(`sizes ${fewest} to ${most}`);
  const open = openMidi(setup.necks[on.neck - 1] ?? { name: '', strings: [] });
  const usable: Grip = options.strings ? gripOf(options.strings) : (1 << on.strings) - 1;

  const slants =
    (options.slants ?? slantsByDefault(setup))
      ? slantedGrips(on.strings, sizes).filter(({ grip }) => (grip & ~usable) === 0)
      : [];
  const columns = new Columns();
  walkGrips(on, open, sizes, usable, slants, columns);
  const { count } = columns;
  return new NutIndex({
    on,
    open,
    sizes,
    count,
    grip: columns.grip.slice(0, count),
    combination: columns.combination.slice(0, count),
    slant: columns.slant.slice(0, count),
    slants,
    ...groupByPcs(columns.pcs, count),
  });
}
