/** A part of a layer as a layer of its own. */
import { STRIDE, type Layer, type Position } from './layer';
import { membersOf } from './members';

/** The candidates that satisfy a test, in the same order; with the numbers that they had. */
export function narrowed(
  layer: Layer,
  isChosen: (candidate: number) => boolean,
): { readonly layer: Layer; readonly was: Int32Array } {
  const chosen: number[] = [];
  for (let candidate = 0; candidate < layer.count; candidate++)
    if (isChosen(candidate)) chosen.push(candidate);
  const was = Int32Array.from(chosen);
  const newIndex = new Map<number, number>();
  const positions: Position[] = [];
  const position = new Uint16Array(was.length);
  was.forEach((old, candidate) => {
    const before = layer.position[old] as number;
    let at = newIndex.get(before);
    if (at === undefined) {
      newIndex.set(before, (at = positions.length));
      positions.push(layer.positions[before] as Position);
    }
    position[candidate] = at;
  });
  return { was, layer: laidOut(layer, was, position, positions) };
}

/**
 * Candidates of a layer, in the order of `was`, once or several times, at positions of their own: `position` says
 * for each which of `positions` it has.
 */
export function laidOut(
  layer: Layer,
  was: Int32Array,
  position: Uint16Array,
  positions: readonly Position[],
): Layer {
  const pitches = new Uint8Array(was.length * STRIDE);
  was.forEach((old, candidate) =>
    pitches.set(layer.pitches.subarray(old * STRIDE, (old + 1) * STRIDE), candidate * STRIDE),
  );
  return {
    count: was.length,
    effort: rows(layer.effort, was),
    wish: rows(layer.wish, was),
    feet: rows(layer.feet, was),
    grip: rows(layer.grip, was),
    size: rows(layer.size, was),
    top: rows(layer.top, was),
    voicing: rows(layer.voicing, was),
    pitches,
    position,
    positions,
    members: membersOf(position, positions.length),
  };
}

/** The rows of a column that are chosen, in the order in which they are asked for. */
function rows<T extends Int32Array | Uint32Array | Uint16Array | Uint8Array>(
  column: T,
  was: Int32Array,
): T {
  const chosen = new (column.constructor as new (length: number) => T)(was.length);
  for (let at = 0; at < was.length; at++) chosen[at] = column[was[at] as number] as number;
  return chosen;
}
