/** The player's choice of light or dark, kept on this device. */

const THEMES = ['system', 'light', 'dark'] as const;
export type Theme = (typeof THEMES)[number];

const isTheme = (text: string): text is Theme => (THEMES as readonly string[]).includes(text);

/** Also read by the script in `app.html`, before the first paint. */
const KEY = 'gripwright-theme';

export function storedTheme(): Theme {
  try {
    const kept = localStorage.getItem(KEY) ?? '';
    return isTheme(kept) ? kept : 'system';
  } catch {
    // storage is shut off; the system decides
    return 'system';
  }
}

export function storeTheme(theme: Theme): void {
  try {
    localStorage.setItem(KEY, theme);
  } catch {
    // it holds for this visit
  }
}

export function forgetTheme(): void {
  try {
    localStorage.removeItem(KEY);
  } catch {
    // there was nothing kept
  }
}
