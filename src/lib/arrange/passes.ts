/**
 * Which chords of a piece in the order of playing are one chord as it is written: what a repeat, a D.C. or a
 * D.S. plays again is played the same way each time, unless a player leaves the passes free.
 */
import { orderOf } from './inOrder';
import type { Onset } from './onsets';
import type { Piece } from './piece';
import { asWritten } from './pieceOf';
import { stepsOf, type Progression } from './progression';
import type { StepWishes, Wishes } from './wishes';

/** A piece with the bars of a progression that its measures are, in the order of playing. */
export interface Agreeing {
  readonly piece: Piece;
  readonly order: readonly number[];
  /** By place in the order; nothing for what is not played. */
  readonly bars: readonly (number | undefined)[];
}

/** The piece of a progression, where that is really it; an upbeat without a chord is not played. */
export function agreeing({ bars }: Progression, piece: Piece | undefined): Agreeing | undefined {
  if (piece === undefined) return undefined;
  const all = orderOf(piece.measures).order;
  // a piece that is too long is cut
  const order = all.length > bars.length + 1 ? all.slice(0, bars.length) : all;
  const isSkipped = (measure: number): boolean =>
    order.length !== bars.length && measure === 0 && piece.measures[0]?.chords.length === 0;
  let next = 0;
  const own = order.map((measure) => (isSkipped(measure) ? undefined : next++));
  if (next !== bars.length) return undefined;
  const written = asWritten(piece).bars;
  const agrees = order.every((measure, at) => {
    const bar = own[at];
    return bar === undefined || bars[bar]?.slots.length === written[measure]?.slots.length;
  });
  return agrees ? { piece, order, bars: own } : undefined;
}

/**
 * By step of a progression: the number of the first step that is the same chord of the same measure as it is
 * written; nothing where the piece plays every measure once.
 */
export function passesOf(
  progression: Progression,
  piece: Piece | undefined,
): readonly number[] | undefined {
  const found = agreeing(progression, piece);
  if (found === undefined) return undefined;
  const measures: number[] = [];
  found.order.forEach((measure, at) => {
    const bar = found.bars[at];
    if (bar !== undefined) measures[bar] = measure;
  });
  const first = new Map<string, number>();
  let repeated = false;
  const passes = stepsOf(progression).map(({ bar, slot, chord, melody }, index) => {
    // a measure without a chord of its own takes on the one before it, which may be another each time
    const symbol = chord === 'no chord' ? '' : chord.symbol;
    const key = JSON.stringify([measures[bar], slot, symbol, melody]);
    const known = first.get(key);
    if (known === undefined) first.set(key, index);
    else repeated = true;
    return known ?? index;
  });
  return repeated ? passes : undefined;
}

/**
 * By moment of a tune: the number of the first that is the same note or chord of the same measure as it is written;
 * nothing where every one is played once. What leads to it is its own each time.
 */
export function onsetPasses(onsets: readonly Onset[]): readonly number[] | undefined {
  const first = new Map<string, number>();
  const passes = onsets.map((onset, index) => {
    const { measure, beat, texture, melody, melodyLasts, second, chord, asChord, between } = onset;
    const sounds = [melody?.midi, melodyLasts, second?.midi, chord?.symbol, asChord, between];
    const key = JSON.stringify([measure, beat, texture, ...sounds]);
    const known = first.get(key);
    if (known === undefined) first.set(key, index);
    return known ?? index;
  });
  return first.size < onsets.length ? passes : undefined;
}

/** What is wished of chords as they are written: of each in the first pass, with what is said of it in the others. */
export function wishedOfWritten(
  steps: ReadonlyMap<number, StepWishes>,
  passes: readonly number[],
): ReadonlyMap<number, StepWishes> {
  const wished = new Map<number, StepWishes>();
  for (const [index, own] of steps) {
    const first = passes[index] ?? index;
    const before = wished.get(first);
    // what is not to be offered again in one pass is not in the others either
    const except = [...new Set([...(before?.except ?? []), ...(own.except ?? [])])];
    wished.set(first, { ...before, ...own, ...(except.length === 0 ? {} : { except }) });
  }
  return wished;
}

/** A player's wishes for a piece: all passes alike, and what is wished for a chord in one of them in all. */
export function withPasses(
  wishes: Wishes,
  progression: Progression,
  piece: Piece | undefined,
): Wishes {
  const passes = wishes.freePasses === true ? undefined : passesOf(progression, piece);
  if (passes === undefined) return wishes;
  const wished = wishedOfWritten(wishes.steps, passes);
  const steps = new Map<number, StepWishes>();
  passes.forEach((first, index) => {
    const own = wished.get(first);
    if (own !== undefined) steps.set(index, own);
  });
  return { ...wishes, passes, steps };
}
