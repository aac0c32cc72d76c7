/** Gathers a chord book off the page's thread and draws it; what draws is loaded with the first one. */
import type { BookQuestion } from '$lib/answers/bookQuestion';
import { BOOK_BEYOND } from '$lib/formats/codeWords';
import type { Book } from '$lib/formats/book';
import type { Drawing, Paper } from '$lib/formats/drawing';
import type { Setup } from '$lib/setup/setup';
import type { NoteNames } from '$lib/theory/noteNames';
import { setupCode } from '$lib/ui/paper/codes';
import { enginePool } from '$lib/ui/worker/pool';

/**
 * The book as data. What failed, and what a newer question has taken the place of, is thrown as a sentence.
 *
 * @param names how notes are called now: the worker is told with the question, and another choice is another book
 */
export async function gatherBook(
  setup: Setup,
  question: BookQuestion,
  names: NoteNames,
): Promise<Book> {
  void names;
  const told = await enginePool().ask('book', setup, question);
  if (!told.ok) throw new Error(told.error);
  return told.value;
}

/** The book of a setup on a paper. */
export async function drawBook(
  gathered: Promise<Book>,
  setup: Setup,
  paper: Paper,
): Promise<Drawing> {
  const [book, { bookDrawing }, code] = await Promise.all([
    gathered,
    import('$lib/formats/bookDrawing'),
    setupCode(setup, BOOK_BEYOND),
  ]);
  return bookDrawing(book, paper, code);
}
