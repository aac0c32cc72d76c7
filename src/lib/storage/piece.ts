/**
 * A piece as it is kept: its structure, the setup it is for, and what is wished. The structure is the truth, and
 * what a field shows is written from it. What was typed and cannot be read (yet) stays beside it as a draft, so
 * that no letter is lost: it takes the structure's place once it can be read.
 */
import { knownWith } from '$lib/engine/memo';
import { played } from '$lib/arrange/pieceOf';
import type { Piece } from '$lib/arrange/piece';
import type { ReadProgression } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { writePiece } from '$lib/arrange/writeText';
import type { WishTexts } from '$lib/answers/wishParts';
import { tuneOf } from '$lib/formats/tuneBeside';
import { laidUnder, withTune } from './keptTune';

export interface StoredProgression {
  /** The id of the setup, as addresses name it. */
  readonly setup: string;
  readonly piece: Piece;
  readonly wishes: WishTexts;
  /** What is typed and not finished: it cannot be read as a whole. */
  readonly draft?: string;
}

/** A piece without a measure. */
export const emptyPiece = (): Piece => ({ measures: [] });

/** What is known of a structure, worked out once however many ask. */
interface Known {
  text?: string;
  tune?: { readonly text: string | undefined };
  read?: ReadProgression;
  draft?: { readonly text: string; readonly read: ReadProgression };
}
const KNOWN = Symbol('what is known of a piece');

/** It belongs to the piece. */
const known = (piece: Piece): Known => knownWith(piece, KNOWN, () => ({}));

/** The text of a structure, as a field shows it. */
export const textOf = (piece: Piece): string => (known(piece).text ??= writePiece(piece).trimEnd());

/** What the text of a structure leaves out, as a document says it. */
export const tuneBeside = (piece: Piece): string | undefined =>
  (known(piece).tune ??= { text: tuneOf(piece) }).text;

/** What a field shows: the draft where there is one. */
export const shownText = ({ piece, draft }: StoredProgression): string => draft ?? textOf(piece);

/** That nothing is written yet is no mistake. */
const isWhole = ({ piece, faults }: ReadProgression): boolean =>
  piece !== undefined && faults.every(({ code }) => code === 'piece.noBars');

function readDraft(text: string, piece: Piece): ReadProgression {
  const there = known(piece);
  if (there.draft?.text !== text)
    there.draft = { text, read: laidOn(readProgression(text), piece) };
  return there.draft.read;
}

const laidOn = (read: ReadProgression, before: Piece): ReadProgression =>
  read.piece === undefined ? read : { ...read, piece: laidUnder(read.piece, before) };

/** What is to be played: the structure; while a draft is written, what can be read of that, and what cannot. */
export function saidBy({ piece, draft }: StoredProgression): ReadProgression {
  if (draft !== undefined) return readDraft(draft, piece);
  return (known(piece).read ??= { progression: played(piece).progression, piece, faults: [] });
}

/**
 * The piece after another text was typed: its structure where it can be read, else a draft beside the structure as
 * it was. `base` is the structure that typing began with: its notes come back with the chords they belong to.
 */
export function typed(
  { draft: _before, ...stored }: StoredProgression,
  text: string,
  base: Piece = stored.piece,
): StoredProgression {
  if (text === textOf(stored.piece)) return stored;
  const read = laidOn(readProgression(text), base);
  if (read.piece === undefined || !isWhole(read)) {
    known(stored.piece).draft = { text, read };
    return { ...stored, draft: text };
  }
  known(read.piece).read = { ...read, faults: [] };
  return { ...stored, piece: read.piece };
}

/**
 * A piece of a text, as addresses, links and documents have it, and of what stands beside it. Where the text
 * cannot be read as a whole it is a draft, and the structure is what can be read of it.
 */
export function fromText(
  about: Pick<StoredProgression, 'setup' | 'wishes'>,
  text: string,
  tune?: string,
): StoredProgression {
  const read = readProgression(text);
  const plain = read.piece ?? emptyPiece();
  const piece = tune === undefined ? plain : withTune(plain, tune);
  if (isWhole(read)) {
    known(piece).read = { ...read, piece, faults: [] };
    return { ...about, piece };
  }
  known(piece).draft = { text, read: { ...read, piece } };
  return { ...about, piece, draft: text };
}

/** Another structure in place of this one, without what was being typed. */
export function withPiece(
  { draft: _before, ...stored }: StoredProgression,
  piece: Piece,
): StoredProgression {
  return { ...stored, piece };
}
