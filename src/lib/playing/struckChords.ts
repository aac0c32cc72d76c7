/** A way of chords as it is struck: the same holds under whatever pattern of the right hand is wished. */
import type { ArrangedStep } from '$lib/arrange/arrange';
import { chordSteps } from '$lib/arrange/chordSteps';
import type { Piece } from '$lib/arrange/piece';
import type { Progression } from '$lib/arrange/progression';
import { struckSteps, type Strikes, type StruckStep } from '$lib/arrange/strike';
import type { TuneStep } from '$lib/arrange/tune';
import type { Setup } from '$lib/setup/setup';
import { strokesOf } from './strokes';

/** Chords as they were solved and as they are struck, in the measures of their piece. */
export interface StruckChords {
  readonly piece: Piece;
  /** One for each chord that is played, in order. */
  readonly steps: readonly TuneStep[];
  readonly struck: readonly StruckStep[];
}

/** Nothing about the holds changes; without a pattern every chord is struck once. */
export function struckChords(
  setup: Setup,
  progression: Progression,
  arranged: readonly ArrangedStep[],
  strikes: Strikes | undefined,
  given?: Piece,
): StruckChords {
  const held = strokesOf(setup, progression, arranged).map((each) => each.held);
  const { piece, steps } = chordSteps(progression, arranged, held, given);
  return { piece, steps, struck: struckSteps(setup, piece, steps, strikes) };
}
