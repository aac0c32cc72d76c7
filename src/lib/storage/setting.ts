/** One small choice of the player's, kept on this device as text; whoever uses it knows what it may be. */

const keyOf = (name: string): string => `gripwright-${name}`;

/** What was chosen on an earlier visit; empty where nothing was. */
export function storedSetting(name: string): string {
  try {
    return localStorage.getItem(keyOf(name)) ?? '';
  } catch {
    // storage is shut off
    return '';
  }
}

export function storeSetting(name: string, text: string): void {
  try {
    localStorage.setItem(keyOf(name), text);
  } catch {
    // it holds for this visit
  }
}
