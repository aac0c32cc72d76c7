/**
 * What a changer does to a string: every pull adds its own stretch, drawn out or let go. Tension grows
 * with stretch in a straight line (Hooke), and the square of the frequency with tension (Mersenne:
 * f² = T / (4 L² μ)), so that squares of frequencies add up where cents do not:
 * f²(split) = f²(raise) + f²(lower) − f²(open).
 */
import { unreachable } from './reach';
import { pullIn, type ControlState, type Engaged, type Setup } from './setup';

/** The square of a frequency against that of a note `cents` below it: 2^(cents/600). */
export const squareAt = (cents: number): number => 2 ** (cents / 600);

/** Cents by which a note whose frequency has this square lies above the one whose square is 1. */
export const centsAbove = (square: number): number => 600 * Math.log2(square);

/** A place that can be tuned: an open string, the stop of a pull, the stop of a split. */
export interface Place {
  /** From 1. */
  readonly neck: number;
  readonly string: number;
  /** The id of the control; `null` is the open string. */
  readonly control: string | null;
  readonly state: ControlState;
  /** The stop of a split: the control that raises the string while `control` lowers it. */
  readonly raisedBy?: string;
}

/** One place's square in the sum of squares that a string sounds. */
export interface Part {
  readonly place: Place;
  readonly factor: 1 | -1;
  /** Semitones by which the place lies above the open string. */
  readonly semitones: number;
}

/** The tuning target of a place, in cents from equal temperament. */
export type TargetAt = (place: Place) => number;

/**
 * The split stop of a lower, where the changer has one: it is tuned with the first control that fully
 * raises the string and can be held with the lower. Nothing where there is no such control.
 */
export function splitStopOf(
  setup: Setup,
  neck: number,
  string: number,
  lower: string,
): Part | undefined {
  if (setup.splitStops !== true) return undefined;
  const pullOf = (id: string): number =>
    setup.controls
      .find((each) => each.id === id)
      ?.pulls.find((pull) => pull.neck === neck && pull.string === string)?.semitones ?? 0;
  const down = pullOf(lower);
  if (down >= 0) return undefined;
  const raise = setup.controls.find(
    ({ id }) =>
      pullOf(id) > 0 &&
      unreachable(setup, [
        { id, state: 'full' },
        { id: lower, state: 'full' },
      ]) === undefined,
  );
  if (raise === undefined) return undefined;
  return {
    place: { neck, string, control: lower, state: 'full', raisedBy: raise.id },
    factor: 1,
    semitones: pullOf(raise.id) + down,
  };
}

/**
 * Whose squares a string under engaged controls is the sum of. One pull is its own stop. Of two raises
 * the one that goes farther decides, of equal ones the first; so with lowers. A raise and a lower each
 * add their stretch to the open string's; on a changer with split stops the lower's stop is the split's:
 * with the raise that it is tuned with it is hit exactly, with another one it lies off as the raises do.
 */
export function partsOf(
  setup: Setup,
  neck: number,
  string: number,
  engaged: readonly Engaged[],
  targetAt: TargetAt,
): Part[] {
  const cents = ({ place, semitones }: Part): number => 100 * semitones + targetAt(place);
  let raise: Part | undefined;
  let lower: Part | undefined;
  for (const { id, state } of engaged)
    for (const pull of setup.controls.find((each) => each.id === id)?.pulls ?? []) {
      const semitones = pullIn(pull, state);
      if (pull.neck !== neck || pull.string !== string || semitones === 0) continue;
      const place: Place = { neck, string, control: id, state };
      const part: Part = { place, factor: 1, semitones };
      if (semitones > 0 && (raise === undefined || cents(part) > cents(raise))) raise = part;
      if (semitones < 0 && (lower === undefined || cents(part) < cents(lower))) lower = part;
    }
  const open: Part = {
    place: { neck, string, control: null, state: 'full' },
    factor: 1,
    semitones: 0,
  };
  if (raise === undefined || lower === undefined) return [raise ?? lower ?? open];
  const { control, state } = lower.place;
  const stop =
    control === null || state === 'half' ? undefined : splitStopOf(setup, neck, string, control);
  if (stop?.place.raisedBy === undefined) return [raise, lower, { ...open, factor: -1 }];
  if (raise.place.control === stop.place.raisedBy && raise.place.state === 'full') return [stop];
  const tunedWith = stop.place.raisedBy;
  const pull = setup.controls
    .find(({ id }) => id === tunedWith)
    ?.pulls.find((each) => each.neck === neck && each.string === string);
  const other: Part = {
    place: { neck, string, control: tunedWith, state: 'full' },
    factor: -1,
    semitones: pull?.semitones ?? 0,
  };
  return [raise, stop, other];
}

/** The sum of the parts' squares; that of the open string in equal temperament is 1. */
export const squareOf = (parts: readonly Part[], targetAt: TargetAt): number =>
  parts.reduce(
    (sum, { place, factor, semitones }) =>
      sum + factor * squareAt(100 * semitones + targetAt(place)),
    0,
  );

/**
 * Cents by which what the parts sound lies off the note `move` semitones above the open string; of one
 * part that sounds this note exactly its target.
 */
export function offsetOfParts(parts: readonly Part[], targetAt: TargetAt, move: number): number {
  const [first] = parts;
  return parts.length === 1 && first !== undefined
    ? targetAt(first.place) + 100 * (first.semitones - move)
    : centsAbove(squareOf(parts, targetAt)) - 100 * move;
}
