/**
 * What a control makes possible, in the order in which it is worth learning: first the chords that
 * nothing else gives, then its everyday grips, then what happens when it is pressed while the bar
 * lies still.
 */
import { namesOf } from '$lib/theory/names';
import { pcSetOf, transpose } from '$lib/theory/pcset';
import { chromaOf, type Midi } from '$lib/theory/pitch';
import { engagedCode } from '$lib/setup/engagedText';
import { withoutControl } from '$lib/setup/proposal';
import { unreachable, type Choice } from '$lib/setup/reach';
import type { Engaged, Setup } from '$lib/setup/setup';
import { sounding } from '$lib/setup/sounding';
import { isEveryday } from '$lib/effort/picking';
import { stringsIn } from '$lib/search/voicing';
import { changeBetween, shapeNow, type Change, type ChangedShape } from './change';
import { easeAt } from './gain';
import type { Shape } from './weighedShapes';
import { placesSaid, type Yardstick } from './yardstick';

/** A chord that nothing but the control gives, with its easiest shape. */
export interface Opened {
  readonly place: number;
  readonly shape: Shape;
  /** How many shapes of it there are. */
  readonly shapes: number;
}

/** One hold of the legs that gives a chord on everyday grips. */
export interface EverydayGrips {
  readonly place: number;
  readonly engaged: Choice;
  /** Easiest first. */
  readonly shapes: readonly Shape[];
}

/** The bar still, the strings ringing, the control pressed. */
export interface Move {
  readonly neck: number;
  /** What is held before and after. */
  readonly held: Choice;
  readonly pressed: Engaged;
  /** Grips on which it works, the easiest first; each with its pitches at the nut. */
  readonly grips: readonly {
    readonly strings: readonly number[];
    readonly from: readonly Midi[];
    readonly to: readonly Midi[];
  }[];
  /** Thousandths, of the hold that it leads to. */
  readonly effort: number;
}

export interface Lesson {
  readonly id: string;
  /** The setup without the control, and with it. */
  readonly change: Change;
  readonly opens: readonly Opened[];
  readonly everyday: readonly EverydayGrips[];
  readonly moves: readonly Move[];
}

const heldFor = ({ index, voicing }: Shape): Choice =>
  index.on.engaged[index.combination[voicing] as number] ?? [];
const gripOf = ({ index, voicing }: Shape): readonly number[] =>
  stringsIn(index.grip[voicing] as number);
const isStraight = ({ index, voicing }: Shape): boolean => index.slant[voicing] === 0;

/** The place that a set says with no tone left out; `undefined` where there is none. */
function completePlace(by: Yardstick, set: number): number | undefined {
  const from = by.from[set] as number;
  const end = by.from[set + 1] as number;
  for (let row = from; row < end; row++) if (by.lean[row] === 0) return by.place[row];
  return undefined;
}

/** What a pitch set at the nut is called when the bar lies at a fret: `F/C`. */
export function nameAt(pitches: readonly Midi[], fret: number): string {
  const set = transpose(pcSetOf(pitches), fret);
  const [name] = namesOf(set, chromaOf(Math.min(...pitches) + fret), { limit: 1 });
  return name?.symbol ?? '';
}

function openedBy(change: Change): Opened[] {
  const { by, eases, shapes } = change;
  const first = new Map<number, { shape: Shape; shapes: number }>();
  for (const changed of shapes.gained)
    for (const place of placesSaid(by, shapeNow(changed).set)) {
      if (eases.before.some((each) => easeAt(each, place) > 0)) continue;
      const opened = first.get(place);
      if (opened === undefined) first.set(place, { shape: shapeNow(changed), shapes: 1 });
      else opened.shapes++;
    }
  const worth = (place: number): number =>
    (by.weight[place] as number) * Math.max(...eases.after.map((each) => easeAt(each, place)));
  return [...first]
    .map(([place, opened]) => ({ place, ...opened }))
    .sort((a, b) => worth(b.place) - worth(a.place) || a.place - b.place);
}

/** Shapes that take the control, on everyday grips and with no tone left out. */
function everydayShapes({ after, by, shapes }: Change, id: string): Shape[] {
  const now = [...shapes.gained, ...shapes.easier].map((each: ChangedShape) => shapeNow(each));
  return now
    .filter((shape) => {
      const neck = after.necks[shape.index.on.neck - 1];
      return (
        neck !== undefined &&
        isStraight(shape) &&
        heldFor(shape).some((each) => each.id === id) &&
        isEveryday(neck, gripOf(shape)) &&
        completePlace(by, shape.set) !== undefined
      );
    })
    .sort(
      (a, b) => a.effort - b.effort || a.index.on.neck - b.index.on.neck || a.voicing - b.voicing,
    );
}

function grouped(by: Yardstick, shapes: readonly Shape[]): EverydayGrips[] {
  const groups = new Map<string, { place: number; engaged: Choice; shapes: Shape[] }>();
  for (const shape of shapes) {
    const place = completePlace(by, shape.set) ?? 0;
    const engaged = heldFor(shape);
    const key = `${shape.index.on.neck}|${place}|${engagedCode(engaged)}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { place, engaged, shapes: [shape] });
    else group.shapes.push(shape);
  }
  return [...groups.values()];
}

function movesTo({ after, by }: Change, id: string, shapes: readonly Shape[]): Move[] {
  const moves = new Map<string, Move & { grips: Move['grips'][number][] }>();
  for (const shape of shapes) {
    const neck = shape.index.on.neck;
    const engaged = heldFor(shape);
    const pressed = engaged.find((each) => each.id === id);
    const held = engaged.filter((each) => each.id !== id);
    if (pressed === undefined || unreachable(after, held) !== undefined) continue;
    const strings = gripOf(shape);
    const pitches = (choice: Choice): Midi[] => {
      const all = sounding(after, neck, choice, 0);
      return strings.map((string) => all[string - 1] ?? 0);
    };
    const [from, to] = [pitches(held), pitches(engaged)];
    const was = completePlace(by, pcSetOf(from));
    const is = completePlace(by, pcSetOf(to));
    if (was === undefined || is === undefined || was === is) continue;
    const key = [neck, engagedCode(held), pressed.state, was, is].join('|');
    const move = moves.get(key);
    const grip = { strings, from, to };
    if (move === undefined)
      moves.set(key, { neck, held, pressed, grips: [grip], effort: shape.effort });
    else move.grips.push(grip);
  }
  return [...moves.values()];
}

/** Puts an existing control in question. */
export function lessonOf(setup: Setup, id: string, by: Yardstick): Lesson {
  const change = changeBetween(withoutControl(setup, id), setup, by);
  const shapes = everydayShapes(change, id);
  return {
    id,
    change,
    opens: openedBy(change),
    everyday: grouped(by, shapes),
    moves: movesTo(change, id, shapes),
  };
}
