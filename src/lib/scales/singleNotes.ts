/**
 * The least work of notes in a row, one string at a time, in a few frets: what a pocket is priced by. The twin of
 * the solver of tunes for this one case. Whether a control stays engaged that a note does not need is looked at as
 * there; but every note is one string, so what taking it after another costs needs no more than a few tables, and
 * all pockets of a neck share them.
 */
import type { Midi } from '$lib/theory/pitch';
import type { Setup } from '$lib/setup/setup';
import type { NeckCombinations } from '$lib/search/combinations';
import { thousandths } from '$lib/effort/effort';
import { barMoveTerms } from '$lib/effort/move';
import { reachTerms, type Wanted } from '$lib/effort/reaching';
import { EVEN_WAY } from '$lib/effort/weights';
import { compile } from '$lib/engine/instrument';
import { STRIDE, layerOf } from '$lib/engine/layer';
import { Cached } from '$lib/engine/memo';
import { FeetCosts, controlOf } from '$lib/arrange/feetCosts';
import { NEVER, roundedSeconds } from '$lib/arrange/moveCosts';
import { STRINGS, moversOf, splitPrice } from '$lib/arrange/toneStage';

/** What legs hold for a note, and what could stay engaged besides. */
interface Footing {
  readonly number: number;
  /** Engaging it where nothing is engaged. */
  readonly arrival: number;
  /** The controls that it needs, as `FeetCosts` numbers them. */
  readonly needs: readonly number[];
  /** By a control that stays idle, as `FeetCosts` numbers it: the footing with it, and the strings that it moves. */
  readonly idling: ReadonlyMap<number, { readonly number: number; readonly moved: number }>;
}

/** A string that sounds a note at a fret in one of its ways. */
interface Candidate {
  readonly grip: number;
  readonly fret: number;
  readonly footing: Footing;
  /** The needed controls that move it, a bit each. */
  readonly movers: number;
  /** In thousandths, without what is engaged. */
  readonly effort: number;
}

/** A candidate with what stays engaged, as it is come to for the least. */
interface Reached {
  readonly at: Candidate;
  /** The footing as it is held. */
  readonly foot: number;
  /** What stays although nothing needs it, as `FeetCosts` numbers it; −1 where nothing does. */
  readonly idle: number;
  /** All efforts and moves up to here. */
  cost: number;
}

/** The tables of a neck for a tempo. */
class SingleNotes {
  readonly #setup: Setup;
  readonly #neck: number;
  readonly #seconds: number;
  readonly #feet: FeetCosts;
  /** By pitch and fret. */
  readonly #candidates = new Map<number, Candidate[]>();
  /** By the fret that the bar comes from, then by the one that it goes to; filled where it is asked. */
  readonly #bar: number[][] = [];
  /** Reaching another string; by semitones another note of one; by frets a string that goes along with the bar. */
  readonly #other: number;
  readonly #anew: number;
  readonly #pulled: number[] = [];
  readonly #slid: number[] = [];

  constructor(setup: Setup, neck: number, seconds: number) {
    this.#setup = setup;
    this.#neck = neck;
    this.#seconds = roundedSeconds(seconds);
    const playing = compile(setup);
    this.#feet = new FeetCosts(setup, EVEN_WAY, playing.middle);
    this.#other = this.#reach({ string: 2, pitch: 1, fret: 0 });
    this.#anew = this.#reach({ string: 1, pitch: 0, fret: 1 });

    const index = playing.index(neck, { sizes: [1, 1], slants: false });
    const layer = layerOf(playing, [index], {
      sets: Array.from({ length: 12 }, (_, chroma) => ({ set: 1 << chroma, missing: [] })),
      ...{ lowest: [], highest: [], frets: [0, setup.frets], balance: EVEN_WAY },
      ...{ prefer: new Set(), avoid: new Set() },
    });
    const footings = new Map<number, Footing>();
    const movers = moversOf(layer, new Map([[neck, index]]));
    const split = splitPrice(1, EVEN_WAY);
    for (let each = 0; each < layer.count; each++) {
      const position = layer.position[each] as number;
      const { fret, combination } = layer.positions[position] ?? { fret: 0, combination: 0 };
      let footing = footings.get(combination);
      if (footing === undefined)
        footings.set(combination, (footing = this.#footingOf(index.on, combination)));
      const grip = layer.grip[each] as number;
      const effort = (layer.effort[each] as number) - (layer.feet[each] as number);
      const key = (layer.pitches[each * STRIDE] as number) * 64 + fret;
      const string = 31 - Math.clz32(grip);
      const own = movers[position * STRINGS + string] as number;
      const isSplit = ((index.on.splits[combination] as number) & grip) !== 0;
      const candidate = {
        ...{ grip, fret, footing, movers: own },
        effort: effort + (isSplit ? split : 0),
      };
      const there = this.#candidates.get(key);
      if (there === undefined) this.#candidates.set(key, [candidate]);
      else there.push(candidate);
    }
  }

  #footingOf({ engaged, oneMore }: NeckCombinations, combination: number): Footing {
    const feet = this.#feet;
    const needs = engaged[combination] ?? [];
    const idling = new Map<number, { number: number; moved: number }>();
    for (const more of oneMore[combination] ?? []) {
      const idle = feet.codeOf(more.control);
      const held = { engaged: engaged[more.combination] ?? [], needs, idle: String(idle) };
      idling.set(idle, { number: feet.numberOf(held), moved: more.moved });
    }
    return {
      number: feet.numberOf({ engaged: needs, needs, idle: '' }),
      arrival: feet.arrival(needs),
      needs: needs.map((each) => feet.codeOf(each)),
      idling,
    };
  }

  /** Reaching a note from string 1 at the nut, by the terms that name it. */
  #reach(to: { readonly string: number; readonly pitch: Midi; readonly fret: number }): number {
    const bar = { neck: 1, slant: 0 };
    const wanted: Wanted = {
      ...{ joined: true, melody: 'begins', between: false },
      seconds: this.#seconds,
    };
    const from = { ...bar, fret: 0, strings: [1], pitches: [0] };
    const there = { ...bar, fret: to.fret, strings: [to.string], pitches: [to.pitch] };
    return thousandths(reachTerms(from, there, wanted), 'picking', EVEN_WAY);
  }

  /** The bar's own way. */
  #between(from: number, to: number): number {
    const row = (this.#bar[from] ??= []);
    return (row[to] ??= thousandths(
      barMoveTerms(
        this.#setup,
        { neck: this.#neck, fret: from, slant: 0 },
        { neck: this.#neck, fret: to, slant: 0 },
        this.#seconds,
      ),
      'bar',
      EVEN_WAY,
    ));
  }

  /** Taking one note after another: the bar's way and the hand's. */
  #taking(from: Candidate, to: Candidate, semitones: number): number {
    const bar = this.#between(from.fret, to.fret);
    if (from.grip !== to.grip) return bar + this.#other;
    const frets = to.fret - from.fret;
    const isHanded = (from.movers & ~to.movers) !== 0 && (to.movers & ~from.movers) !== 0;
    if (frets === 0 && isHanded) return bar + this.#anew;
    if (frets === 0)
      return (
        bar +
        (this.#pulled[Math.abs(semitones)] ??= this.#reach({
          string: 1,
          pitch: semitones,
          fret: 0,
        }))
      );
    if (semitones !== frets) return bar + this.#anew;
    return (
      bar + (this.#slid[Math.abs(frets)] ??= this.#reach({ string: 1, pitch: frets, fret: frets }))
    );
  }

  #feetBetween(row: Int32Array, from: number, to: number): number {
    const known = row[to] as number;
    return known >= 0 ? known : (row[to] = this.#feet.between(from, to));
  }

  /** All that sounds a note in some frets. */
  #soundingIn(pitch: Midi, [low, high]: readonly [number, number]): Candidate[] {
    const found: Candidate[] = [];
    for (let fret = low; fret <= high; fret++)
      for (const each of this.#candidates.get(pitch * 64 + fret) ?? []) found.push(each);
    return found;
  }

  /** The least that notes cost, in thousandths; no two neighbours are the same. `NEVER` where one is not there. */
  least(notes: readonly Midi[], frets: readonly [number, number]): number {
    const [first = 0, ...more] = notes;
    let now = this.#soundingIn(first, frets).map((at): Reached => ({
      ...{ at, foot: at.footing.number, idle: -1 },
      cost: at.footing.arrival + at.effort,
    }));
    let before = first;
    for (const note of more) {
      now = this.#next(now, this.#soundingIn(note, frets), note - before);
      before = note;
    }
    return now.reduce((least, { cost }) => Math.min(least, cost), NEVER);
  }

  #next(now: readonly Reached[], there: readonly Candidate[], semitones: number): Reached[] {
    const next: Reached[] = [];
    const rows = now.map(({ foot }) => this.#feet.from(foot));
    for (const at of there) {
      const plain = { at, foot: at.footing.number, idle: -1, cost: NEVER };
      /** By what stays. */
      const staying: Reached[] = [];
      for (let one = 0; one < now.length; one++) {
        const { at: from, foot, idle, cost } = now[one] as Reached;
        const row = rows[one] as Int32Array;
        const so = cost + this.#taking(from, at, semitones);
        // what stays idle counts for what needs it, in whatever state, and where it goes on staying
        const isNeeded = idle < 0 || needsControl(at.footing, idle);
        if (isNeeded)
          plain.cost = Math.min(plain.cost, so + this.#feetBetween(row, foot, plain.foot));
        if (from.fret !== at.fret) continue;
        const stay = (code: number): void => {
          const held = at.footing.idling.get(code);
          if (held === undefined || (held.moved & at.grip) !== 0) return;
          const all = so + this.#feetBetween(row, foot, held.number);
          const known = staying.find((each) => each.idle === code);
          if (known === undefined) staying.push({ at, foot: held.number, idle: code, cost: all });
          else known.cost = Math.min(known.cost, all);
        };
        if (idle >= 0) stay(idle);
        if (isNeeded) for (const code of from.footing.needs) stay(code);
      }
      const { effort } = at;
      for (const each of [plain, ...staying]) {
        if (each.cost >= NEVER) continue;
        each.cost += effort;
        next.push(each);
      }
    }
    return next;
  }
}

const needsControl = ({ needs }: Footing, code: number): boolean => {
  for (const need of needs) if (controlOf(need) === controlOf(code)) return true;
  return false;
};

/** Two necks in a tempo, and another. */
const KNOWN = new Cached<SingleNotes>(4);

/**
 * The least that some notes cost on a neck, in thousandths, a string each under a straight bar between two frets.
 * No two neighbouring notes are the same.
 */
export const leastOfNotes = (
  setup: Setup,
  neck: number,
  notes: readonly Midi[],
  frets: readonly [number, number],
  seconds: number,
): number =>
  compile(setup)
    .once(KNOWN, `${neck} ${seconds}`, () => new SingleNotes(setup, neck, seconds))
    .least(notes, frets);
