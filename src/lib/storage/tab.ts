/** What is remembered for this tab alone, and forgotten when it is closed. */

const keyOf = (name: string): string => `gripwright-${name}`;

export function storeForTab(name: string, text: string): void {
  try {
    sessionStorage.setItem(keyOf(name), text);
  } catch {
    // it lasts until the page is reloaded
  }
}

export function storedForTab(name: string): string | undefined {
  try {
    return sessionStorage.getItem(keyOf(name)) ?? undefined;
  } catch {
    return undefined;
  }
}

/** Texts of one name that are remembered at once: as many as a tab goes back to. */
const MOST_VERSIONS = 24;

/** A short mark of a text: 32-bit FNV-1a (draft-eastlake-fnv), in letters and figures. */
function markOf(text: string): string {
  let hash = 0x811c9dc5;
  for (let at = 0; at < text.length; at++)
    hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193) >>> 0;
  return hash.toString(36);
}

/** Remembers a text beside those before it, so that Back finds each. @returns the mark that finds it again */
export function storeVersionForTab(name: string, text: string): string {
  const mark = markOf(text);
  const before = (storedForTab(`${name}-marks`) ?? '').split(' ').filter((each) => each !== mark);
  const marks = [...before.filter((each) => each !== ''), mark];
  try {
    for (const old of marks.splice(0, Math.max(0, marks.length - MOST_VERSIONS)))
      sessionStorage.removeItem(keyOf(`${name}-${old}`));
  } catch {
    // what cannot be forgotten takes no more room than it did
  }
  storeForTab(`${name}-marks`, marks.join(' '));
  storeForTab(`${name}-${mark}`, text);
  // what an older address, which has no mark, opens
  storeForTab(name, text);
  return mark;
}

/** A text by its mark; the newest one where there is no mark, or it is forgotten. */
export const storedVersionForTab = (name: string, mark: string): string | undefined =>
  (mark === '' ? undefined : storedForTab(`${name}-${mark}`)) ?? storedForTab(name);
