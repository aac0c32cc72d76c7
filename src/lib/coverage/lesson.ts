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
import { engagedFor, stringsOf, type Shape } from '$lib/engine/shapes';
import { changeBetween, shapeNow, type Change } from './change';
import { easeOf } from './gain';
import { chordsSaid, type Yardstick } from './yardstick';

/** A chord that nothing but the control gives, with its easiest shape. */
export interface Opened {
  readonly chordNumber: number;
  /** It lies on an everyday grip, as it does not without the control; else nothing else gives it at all. */
  readonly everyday: boolean;
  readonly shape: Shape;
  /** How many shapes of it there are. */
  readonly shapes: number;
}

/** One hold of the legs that gives a chord on everyday grips. */
export interface EverydayGrips {
  readonly chordNumber: number;
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

/** The chord numbers that a set says with no tone left out. */
function completeChords(by: Yardstick, set: number): number[] {
  const chordNumbers: number[] = [];
  for (let row = by.from[set] as number; row < (by.from[set + 1] as number); row++)
    if (by.lean[row] === 0) chordNumbers.push(by.chordNumber[row] as number);
  return chordNumbers;
}

const completeChord = (by: Yardstick, set: number): number | undefined =>
  completeChords(by, set)[0];

/** On an everyday grip, with the bar straight and no tone left out. */
function isPlain(setup: Setup, by: Yardstick, shape: Shape): boolean {
  const neck = setup.necks[shape.neck.index.on.neck - 1];
  return (
    neck !== undefined &&
    shape.neck.index.slant[shape.number] === 0 &&
    completeChord(by, shape.set) !== undefined &&
    isEveryday(neck, stringsOf(shape))
  );
}

const easiestFirst = (a: Shape, b: Shape): number =>
  a.effort - b.effort || a.neck.index.on.neck - b.neck.index.on.neck || a.number - b.number;

/** What a pitch set at the nut is called when the bar lies at a fret: `F/C`. */
export function nameAt(pitches: readonly Midi[], fret: number): string {
  const set = transpose(pcSetOf(pitches), fret);
  const [name] = namesOf(set, chromaOf(Math.min(...pitches) + fret), { limit: 1 });
  return name?.symbol ?? '';
}

/** By chord number, the shapes that say it; easiest first. */
function byChord(by: Yardstick, shapes: readonly Shape[]): Map<number, Shape[]> {
  const said = new Map<number, Shape[]>();
  for (const shape of [...shapes].sort(easiestFirst))
    for (const chordNumber of chordsSaid(by, shape.set)) {
      const others = said.get(chordNumber);
      if (others === undefined) said.set(chordNumber, [shape]);
      else others.push(shape);
    }
  return said;
}

/**
 * Chords that lie on an everyday grip with the control alone, then those that nothing else gives on
 * any grip; in both the usual and easy ones first.
 */
function openedBy({ by, all, after }: Change): Opened[] {
  const before = byChord(by, all.before);
  const easyBefore = byChord(
    by,
    all.before.filter((shape) => isPlain(after, by, shape)),
  );
  const opened: Opened[] = [];
  for (const [chordNumber, shapes] of byChord(by, all.after)) {
    // a sound that is two chords counts under the one it is without a tone left out
    const easy = shapes.filter(
      (shape) => isPlain(after, by, shape) && completeChords(by, shape.set).includes(chordNumber),
    );
    const [first] = shapes;
    if (easy[0] !== undefined && !easyBefore.has(chordNumber))
      opened.push({ chordNumber, everyday: true, shape: easy[0], shapes: easy.length });
    else if (first !== undefined && !before.has(chordNumber))
      opened.push({ chordNumber, everyday: false, shape: first, shapes: shapes.length });
  }
  const worth = ({ chordNumber, shape }: Opened): number =>
    (by.weight[chordNumber] as number) * easeOf(shape.effort, false);
  return opened.sort(
    (a, b) =>
      Number(b.everyday) - Number(a.everyday) ||
      worth(b) - worth(a) ||
      a.chordNumber - b.chordNumber,
  );
}

/** Shapes that take the control, on everyday grips and with no tone left out. */
function everydayShapes({ after, by, shapes }: Change, id: string): Shape[] {
  return [...shapes.gained, ...shapes.easier]
    .map((each) => shapeNow(each))
    .filter(
      (shape) => engagedFor(shape).some((each) => each.id === id) && isPlain(after, by, shape),
    )
    .sort(easiestFirst);
}

function grouped(by: Yardstick, shapes: readonly Shape[]): EverydayGrips[] {
  const groups = new Map<string, { chordNumber: number; engaged: Choice; shapes: Shape[] }>();
  for (const shape of shapes) {
    const chordNumber = completeChord(by, shape.set) ?? 0;
    const engaged = engagedFor(shape);
    const key = `${shape.neck.index.on.neck}|${chordNumber}|${engagedCode(engaged)}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { chordNumber, engaged, shapes: [shape] });
    else group.shapes.push(shape);
  }
  return [...groups.values()];
}

function movesTo({ after, by }: Change, id: string, shapes: readonly Shape[]): Move[] {
  const moves = new Map<string, Move & { grips: Move['grips'][number][] }>();
  for (const shape of shapes) {
    const neck = shape.neck.index.on.neck;
    const engaged = engagedFor(shape);
    const pressed = engaged.find((each) => each.id === id);
    const held = engaged.filter((each) => each.id !== id);
    if (pressed === undefined || unreachable(after, held) !== undefined) continue;
    const strings = stringsOf(shape);
    const pitches = (choice: Choice): Midi[] => {
      const all = sounding(after, neck, choice, 0);
      return strings.map((string) => all[string - 1] ?? 0);
    };
    const [from, to] = [pitches(held), pitches(engaged)];
    const was = completeChord(by, pcSetOf(from));
    const is = completeChord(by, pcSetOf(to));
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
