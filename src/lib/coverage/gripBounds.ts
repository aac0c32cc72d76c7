/**
 * What single grips give at most under two controls, by what the two do to the strings of the grip: found when it is
 * first asked for, and remembered, since it hangs on no other string.
 *
 * Where the first control is given, what its grips give with some pulls V of the second is their sum over the grips
 * that hold V: a spot is filled by a shape on some one grip, and what a grip fills above what is easier already
 * is no more than what it fills above what is there without both.
 */
import { FURTHEST, type PlainPull } from '$lib/setup/candidates';
import { stringsIn } from '$lib/search/grip';
import type { Eases } from './ease';
import { DONE, doneBy, KEPT, MOST_STRINGS } from './movedStates';
import { NeckRows, type PlayedGrip, type UnderControls } from './neckRows';
import { Raising } from './raising';

const UNKNOWN = -1;
/** Semitones from as far down as up. */
const STEPS = 2 * FURTHEST + 1;

interface Table {
  readonly grip: number;
  readonly played: readonly PlayedGrip[];
  /** From 0, ascending. */
  readonly strings: readonly number[];
  /** By state: the sum over its spots. */
  most: Float32Array | undefined;
}

/** A grip that holds some strings: how its state is made of what is done to each string. */
interface Holding {
  readonly table: Table;
  /** For each of the strings that it must hold. */
  readonly times: readonly number[];
  readonly others: readonly { readonly string: number; readonly times: number }[];
}

/** The grips of one neck under two controls. */
export class GripBounds {
  readonly #rows: NeckRows;
  readonly #raising: Raising;
  readonly #now: Eases;
  readonly #all: readonly Table[];
  readonly #holding = new Map<string, readonly Holding[]>();
  /** By string: what the rows have now. */
  readonly #done: number[];
  // of the first control that is given: its strings as a grip, and by string and semitones of the second what is done
  #firstMask = 0;
  readonly #both: Uint8Array;
  #meeting = false;
  // of the strings that are asked for, grip by grip: the states, the part that is given, and what each string adds
  #strings: readonly number[] = [];
  #tables: Table[] = [];
  readonly #base: Int32Array;
  readonly #times: Int32Array;
  readonly #own = new Int32Array(MOST_STRINGS);

  /** @param rest the eases of the neck without the two controls */
  constructor(under: UnderControls, rest: Eases) {
    this.#rows = new NeckRows(under);
    this.#raising = new Raising(under.by);
    this.#now = rest.slice();
    const byGrip = new Map<number, PlayedGrip[]>();
    for (const played of this.#rows.grips) {
      const same = byGrip.get(played.grip);
      if (same === undefined) byGrip.set(played.grip, [played]);
      else same.push(played);
    }
    this.#all = [...byGrip].map(([grip, played]) => ({
      grip,
      played,
      strings: stringsIn(grip).map((string) => string - 1),
      most: undefined,
    }));
    const { strings } = this.#rows;
    this.#done = new Array<number>(strings).fill(0);
    this.#both = new Uint8Array(strings * STEPS);
    this.#base = new Int32Array(this.#all.length);
    this.#times = new Int32Array(this.#all.length * MOST_STRINGS);
  }

  /**
   * Gives the first control its pulls on this neck.
   *
   * @param meeting only grips on which it moves something count
   */
  fix(pulls: readonly PlainPull[], meeting: boolean): void {
    this.#firstMask = 0;
    this.#meeting = meeting;
    const first = this.#done.map(() => 0);
    for (const { string, semitones } of pulls) {
      first[string - 1] = semitones;
      this.#firstMask |= 1 << (string - 1);
    }
    first.forEach((own, string) => {
      for (let by = -FURTHEST; by <= FURTHEST; by++)
        this.#both[string * STEPS + by + FURTHEST] = doneBy(
          Math.max(0, own, by),
          Math.min(0, own, by),
        );
    });
  }

  /** Looks at the grips that hold some strings, from 0 and ascending. */
  hold(strings: readonly number[]): void {
    const key = strings.join();
    let all = this.#holding.get(key);
    if (all === undefined) {
      all = this.#all.flatMap((table) => holdingOf(table, strings));
      this.#holding.set(key, all);
    }
    this.#strings = strings;
    this.#tables = [];
    for (const { table, times, others } of all) {
      if (this.#meeting && (table.grip & this.#firstMask) === 0) continue;
      const at = this.#tables.push(table) - 1;
      let base = 0;
      for (const other of others)
        base += (this.#both[other.string * STEPS + FURTHEST] as number) * other.times;
      this.#base[at] = base;
      for (let i = 0; i < times.length; i++)
        this.#times[at * MOST_STRINGS + i] = times[i] as number;
    }
  }

  /** What they give at most where the second control moves each of the strings so far. */
  most(amounts: Int8Array, from: number): number {
    const { length } = this.#strings;
    for (let i = 0; i < length; i++)
      this.#own[i] = this.#both[
        (this.#strings[i] as number) * STEPS + (amounts[from + i] as number) + FURTHEST
      ] as number;
    let sum = 0;
    for (let g = 0; g < this.#tables.length; g++) {
      const table = this.#tables[g] as Table;
      let state = this.#base[g] as number;
      for (let i = 0; i < length; i++)
        state += (this.#own[i] as number) * (this.#times[g * MOST_STRINGS + i] as number);
      const known = table.most === undefined ? UNKNOWN : (table.most[state] as number);
      sum += known === UNKNOWN ? this.#find(table, state) : known;
    }
    return sum;
  }

  #find(table: Table, state: number): number {
    const { strings, played } = table;
    let rest = state;
    for (let i = strings.length - 1; i >= 0; i--) {
      const string = strings[i] as number;
      const done = rest % DONE;
      rest = (rest - done) / DONE;
      if (this.#done[string] === done) continue;
      this.#done[string] = done;
      const lower = done % (FURTHEST + 1);
      this.#rows.pull(string, (done - lower) / (FURTHEST + 1), -lower);
    }
    let sum = 0;
    for (const each of played) sum += this.#raising.raise(this.#rows, each, this.#now);
    this.#raising.putBack(this.#now);
    table.most ??= new Float32Array(DONE ** strings.length).fill(UNKNOWN);
    table.most[state] = sum * KEPT;
    return table.most[state];
  }
}

function holdingOf(table: Table, held: readonly number[]): Holding[] {
  const { strings } = table;
  if (!held.every((string) => strings.includes(string))) return [];
  const timesOf = (string: number): number =>
    DONE ** (strings.length - 1 - strings.indexOf(string));
  return [
    {
      table,
      times: held.map(timesOf),
      others: strings
        .filter((string) => !held.includes(string))
        .map((string) => ({ string, times: timesOf(string) })),
    },
  ];
}
