/**
 * Texts with notes in them, between a field and what is kept: kept in letters, shown and typed as the reader
 * calls notes. What reads other names than letters is there before they are chosen (`chosenNames`).
 */
import type { NotesIn, TypedTexts } from '$lib/theory/typedText';

let otherNames: TypedTexts | undefined;

/** Fetches what reads other names than letters; is it there now? */
export async function fetchOtherNames(): Promise<boolean> {
  try {
    otherNames ??= await import('$lib/theory/typedText');
  } catch {
    return false;
  }
  return true;
}

/** What turns texts, once other names than letters were chosen; until then a text is in letters. */
export const typedTexts = (): TypedTexts | undefined => otherNames;

/** A typed text in letters. */
export const textInLetters = (kind: NotesIn, text: string): string =>
  otherNames?.textInLetters(kind, text) ?? text;

/** A text in letters as its reader would type it. */
export const textCalled = (kind: NotesIn, text: string): string =>
  otherNames?.textCalled(kind, text) ?? text;
