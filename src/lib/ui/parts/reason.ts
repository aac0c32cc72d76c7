/** What browsers say of a part of the program that could not be fetched, with its address. */
const UNFETCHED = /dynamically imported module|importing a module script/iu;

/** What something that was thrown says of itself, to go into a sentence; without a full stop of its own. */
export function reasonOf(error: unknown): string {
  const message = error instanceof Error ? error.message.replace(/\.$/u, '') : '';
  if (UNFETCHED.test(message))
    return 'a part of the program could not be fetched; try again when the connection is back';
  return message || 'it gave no reason';
}
