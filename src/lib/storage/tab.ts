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
