/**
 * A piece as it is kept: what was typed, the setup it is for, and what is wished. What its text says is read
 * once for every text, however many ask.
 */
import type { ReadProgression } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import type { WishTexts } from '$lib/answers/readWishes';

export interface StoredProgression {
  /** The id of the setup, as addresses name it. */
  readonly setup: string;
  readonly text: string;
  readonly wishes: WishTexts;
}

const READ = new WeakMap<StoredProgression, ReadProgression>();

/** What the text of a piece says. */
export function saidBy(piece: StoredProgression): ReadProgression {
  const known = READ.get(piece);
  if (known !== undefined) return known;
  const read = readProgression(piece.text);
  READ.set(piece, read);
  return read;
}

/** The piece with some of its parts changed; where the text stays, so does what it says. */
export function withParts(
  piece: StoredProgression,
  parts: Partial<StoredProgression>,
): StoredProgression {
  const next = { ...piece, ...parts };
  const read = READ.get(piece);
  if (read !== undefined && next.text === piece.text) READ.set(next, read);
  return next;
}
