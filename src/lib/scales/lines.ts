/** Lines of a scale from one note to another: what may lie between them, in short. */
import type { Midi } from '$lib/theory/pitch';
import { nextInScale, type Scale } from '$lib/theory/scales';

/**
 * *straight*: every note of the scale between them, in order; *in*: a leap, and the last notes in order; *out*:
 * the first notes in order, and a leap; *over* and *under*: one note beyond both, and back, where they are
 * neighbours or the same.
 */
export type LineShape = 'straight' | 'in' | 'out' | 'over' | 'under';

export interface Line {
  readonly shape: LineShape;
  readonly from: Midi;
  /** Those between. */
  readonly notes: readonly Midi[];
  readonly to: Midi;
}

/** More notes than these between are no short way any more. */
const MOST_STRAIGHT = 5;
/** Notes in order before or after a leap. */
const BESIDE_A_LEAP = 3;

/** The notes of a scale between two pitches, neither of them included, from the first to the second. */
function scaleBetween(scale: Scale, from: Midi, to: Midi): Midi[] {
  const way = to > from ? 1 : -1;
  const notes: Midi[] = [];
  for (
    let at = nextInScale(scale, from, way);
    way === 1 ? at < to : at > to;
    at = nextInScale(scale, at, way)
  )
    notes.push(at);
  return notes;
}

/**
 * The lines from one note to another, pitches in semitones; at least one for every scale that has a note. The
 * two notes need not be in the scale.
 */
export function linesBetween(scale: Scale, from: Midi, to: Midi): Line[] {
  const notes = from === to ? [] : scaleBetween(scale, from, to);
  const line = (shape: LineShape, some: readonly Midi[]): Line => ({
    shape,
    from,
    notes: some,
    to,
  });
  if (notes.length === 0)
    return [
      line('over', [nextInScale(scale, Math.max(from, to))]),
      line('under', [nextInScale(scale, Math.min(from, to), -1)]),
    ];
  if (notes.length <= MOST_STRAIGHT) return [line('straight', notes)];
  return [line('in', notes.slice(-BESIDE_A_LEAP)), line('out', notes.slice(0, BESIDE_A_LEAP))];
}
