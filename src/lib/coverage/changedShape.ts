import type { Shape } from '$lib/engine/shapes';

/** One shape as it was and as it is; one of the two is missing where it is gained or lost. */
export interface ChangedShape {
  /** The number of its first chord in the repertoire, complete chords before lean ones. */
  readonly chordNumber: number;
  readonly before?: Shape;
  readonly after?: Shape;
}

/** The shape that is there to be played: after the change where it is, else before. */
export const shapeNow = ({ before, after }: ChangedShape): Shape => {
  const shape = after ?? before;
  if (shape === undefined) throw new Error('a changed shape that is neither before nor after');
  return shape;
};
