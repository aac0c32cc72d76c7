/** The band of an arrangement as it is written to a file, once through. */
import { measuresFor } from '$lib/arrange/chordSteps';
import { inOrder } from '$lib/arrange/inOrder';
import type { Piece } from '$lib/arrange/piece';
import { pieceOf } from '$lib/arrange/pieceOf';
import type { Progression } from '$lib/arrange/progression';
import { bandOf, type BandNote } from './band';
import type { FeelName } from './feels';

/** What a file of an arrangement says of its band. */
export interface Accompanied {
  readonly progression: Progression;
  readonly piece?: Piece;
  readonly feel?: FeelName | undefined;
}

/** What is for practice alone. */
const PRACTICE = 'click';

/** The same of a tune, whose measures are those of its piece. */
export const bandForTune = (piece: Piece, feel: FeelName | undefined): BandNote[] =>
  feel === undefined ? [] : bandOf({ piece, feel }).notes.filter(({ part }) => part !== PRACTICE);

/** All but the click, in seconds from the first chord; nothing where no feel is asked for. */
export function bandFor({ progression, piece: written, feel }: Accompanied): BandNote[] {
  if (feel === undefined) return [];
  const { piece, measures } = measuresFor(progression, written ?? pieceOf(progression));
  const all = inOrder(piece).measures.length;
  return bandOf({ piece, feel, part: [all - measures.length, all] }).notes.filter(
    ({ part }) => part !== PRACTICE,
  );
}
