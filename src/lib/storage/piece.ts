/**
 * A piece as it is kept: what was typed, the setup it is for, and what is wished. What its text says is read
 * once for every text, however many ask.
 */
import type { Piece } from '$lib/arrange/piece';
import type { ReadProgression } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { writePiece } from '$lib/arrange/writeText';
import type { WishTexts } from '$lib/answers/readWishes';
import { tuneOf, withTune } from './keptTune';

export interface StoredProgression {
  /** The id of the setup, as addresses name it. */
  readonly setup: string;
  readonly text: string;
  readonly wishes: WishTexts;
  /** What the text cannot say of a piece that came from a file, as `keptTune` writes it. */
  readonly tune?: string;
}

const READ = new WeakMap<StoredProgression, ReadProgression>();

/** What the text of a piece says. */
export function saidBy(piece: StoredProgression): ReadProgression {
  const known = READ.get(piece);
  if (known !== undefined) return known;
  const said = readProgression(piece.text);
  const { tune } = piece;
  const read =
    tune === undefined || said.piece === undefined
      ? said
      : { ...said, piece: withTune(said.piece, tune) };
  READ.set(piece, read);
  return read;
}

/** A piece as a text, and what the text cannot say of it. */
export interface PieceTexts {
  readonly text: string;
  readonly tune?: string;
}

export function textsOf(piece: Piece): PieceTexts {
  const tune = tuneOf(piece);
  return { text: writePiece(piece), ...(tune === undefined ? {} : { tune }) };
}

/** The piece with another text, and what belongs to that; what is kept beside the one before goes. */
export function withTexts(
  { tune: _before, ...piece }: StoredProgression,
  texts: PieceTexts,
): StoredProgression {
  return { ...piece, ...texts };
}

/** The piece with some of its parts changed; where the text stays, so does what it says. */
export function withParts(
  piece: StoredProgression,
  parts: Partial<StoredProgression>,
): StoredProgression {
  const next = { ...piece, ...parts };
  const read = READ.get(piece);
  if (read !== undefined && next.text === piece.text && next.tune === piece.tune)
    READ.set(next, read);
  return next;
}
