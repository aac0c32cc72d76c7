const LETTERS = '23456789abcdefghjkmnpqrstuvwxyz';

/** An id that is this document's alone and can stand in an address. */
export function newId(): string {
  const random = crypto.getRandomValues(new Uint8Array(10));
  return `kept-${Array.from(random, (each) => LETTERS[each % LETTERS.length]).join('')}`;
}
