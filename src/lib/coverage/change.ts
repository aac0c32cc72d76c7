/**
 * A setup before and after a change: every voicing of the repertoire that is gained, lost, made
 * easier or made harder. Two voicings are the same when neck, fret, strings, slant and pitches are.
 */
import type { Setup } from '$lib/setup/setup';
import { compileBoth, type Instrument } from '$lib/engine/instrument';
import {
  fretsWithin,
  shapeKey,
  shapesOf,
  shapesWith,
  type NeckShapes,
  type Shape,
} from '$lib/engine/shapes';
import { shapeNow, type ChangedShape } from './changedShape';
import { KINDS, type ChangeKind } from './changeKinds';
import { easeOf, easesOf, gainOf, sumsByType, type Eases } from './ease';
import { usualShapes, type ShapeOptions } from './shapeOptions';
import { counts, chordsSaid, type Yardstick } from './yardstick';

export interface Change {
  readonly before: Setup;
  readonly after: Setup;
  /** Both held over the pedals of either: a pedal that comes or goes does not move the others. */
  readonly instruments: { readonly before: Instrument; readonly after: Instrument };
  readonly by: Yardstick;
  readonly options: ShapeOptions;
  /** Easiest first, then by neck, strings and pitches. */
  readonly shapes: Readonly<Record<ChangeKind, readonly ChangedShape[]>>;
  /** By neck. */
  readonly eases: { readonly before: readonly Eases[]; readonly after: readonly Eases[] };
  /** Shapes by type, in the order of the yardstick: as it was and as it is. */
  readonly all: { readonly before: readonly Shape[]; readonly after: readonly Shape[] };
  readonly gain: number;
  readonly gainByType: readonly number[];
}

const inOrder = (a: ChangedShape, b: ChangedShape): number => {
  const [one, other] = [shapeNow(a), shapeNow(b)];
  return (
    one.effort - other.effort ||
    one.neck.index.on.neck - other.neck.index.on.neck ||
    one.number - other.number
  );
};

/**
 * Changed shapes with the most used chords first: by what their chord is used, by their ease, as the gain
 * weighs them (a chord with tones left out says half); equal ones easiest first.
 */
export function mostUsedFirst(by: Yardstick, shapes: readonly ChangedShape[]): ChangedShape[] {
  const worth = (changed: ChangedShape): number => {
    const { set, effort } = shapeNow(changed);
    const isComplete = Array.from(
      by.lean.subarray(by.from[set] as number, by.from[set + 1] as number),
    ).includes(0);
    return (
      (by.weight[changed.chordNumber] as number) *
      (by.tones[Math.floor(changed.chordNumber / 12)] as number) *
      easeOf(effort, !isComplete)
    );
  };
  return shapes
    .map((changed) => ({ changed, worth: worth(changed) }))
    .sort((a, b) => b.worth - a.worth || inOrder(a.changed, b.changed))
    .map(({ changed }) => changed);
}

/** Runs the whole search before and after, and holds every voicing against its like. */
export function changeBetween(
  before: Setup,
  after: Setup,
  by: Yardstick,
  options: ShapeOptions = usualShapes(before),
): Change {
  if (before.necks.length !== after.necks.length)
    throw new Error(`${before.necks.length} necks before, ${after.necks.length} after`);
  const instruments = compileBoth(before, after);
  const [was, is] = instruments.map((instrument) => shapesOf(instrument, options)) as [
    readonly NeckShapes[],
    readonly NeckShapes[],
  ];
  const said = (necks: readonly NeckShapes[]): Shape[][] =>
    necks.map((neck) => [...shapesWith(neck, (set) => counts(by, set))]);
  const all = { before: said(was), after: said(is) };
  const shapes: Record<ChangeKind, ChangedShape[]> = {
    gained: [],
    lost: [],
    easier: [],
    harder: [],
  };
  const chordNumber = ({ set }: Shape): number => chordsSaid(by, set)[0] ?? 0;
  all.before.forEach((shapesBefore, neck) => {
    const left = new Map(shapesBefore.map((shape) => [shapeKey(shape), shape]));
    for (const shape of all.after[neck] ?? []) {
      const key = shapeKey(shape);
      const like = left.get(key);
      left.delete(key);
      if (like === undefined) shapes.gained.push({ chordNumber: chordNumber(shape), after: shape });
      else if (shape.effort !== like.effort)
        shapes[shape.effort < like.effort ? 'easier' : 'harder'].push({
          chordNumber: chordNumber(shape),
          before: like,
          after: shape,
        });
    }
    for (const shape of left.values())
      shapes.lost.push({ chordNumber: chordNumber(shape), before: shape });
  });
  for (const kind of KINDS) shapes[kind].sort(inOrder);

  const eases = {
    before: was.map((neck) => easesOf(neck, by)),
    after: is.map((neck) => easesOf(neck, by)),
  };
  const sums = by.types.map(() => 0);
  eases.before.forEach((each, neck) =>
    sumsByType(by, each, eases.after[neck] ?? each).forEach((sum, type) => {
      sums[type] = (sums[type] ?? 0) + sum;
    }),
  );
  return {
    before,
    after,
    instruments: { before: instruments[0], after: instruments[1] },
    by,
    options,
    shapes,
    eases,
    all: { before: all.before.flat(), after: all.after.flat() },
    gain: gainOf(sums.reduce((sum, each) => sum + each, 0)),
    gainByType: sums.map(gainOf),
  };
}

export interface Counted {
  /** Voicings within the frets, each once however many chords it is. */
  readonly count: number;
  /** The same by chord type, in the order of the repertoire, types with none left out. */
  readonly byType: readonly { readonly type: string; readonly count: number }[];
}

/** How many voicings some shapes are, at the frets within bounds. */
export function countShapes(
  shapes: readonly Shape[],
  by: Yardstick,
  frets: readonly [number, number],
): Counted {
  let count = 0;
  const byType = by.types.map((type) => ({ type, count: 0 }));
  for (const shape of shapes) {
    const many = fretsWithin(shape, frets).length;
    count += many;
    const types = new Set(
      chordsSaid(by, shape.set).map((chordNumber) => Math.floor(chordNumber / 12)),
    );
    for (const type of types) {
      const entry = byType[type];
      if (entry) entry.count += many;
    }
  }
  return { count, byType: byType.filter((each) => each.count > 0) };
}
