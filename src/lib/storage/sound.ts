/** How a player likes to listen, kept on this device. */

/** Everything that is kept, as plain values. Whoever uses them knows which ones there can be. */
export type StoredSound = Readonly<Record<string, string | number | boolean>>;

const KEY = 'gripwright-sound';

export function storedSound(): StoredSound {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEY) ?? '{}');
    if (typeof kept !== 'object' || kept === null) return {};
    return Object.fromEntries(
      Object.entries(kept).filter((entry): entry is [string, string | number | boolean] =>
        ['string', 'number', 'boolean'].includes(typeof entry[1]),
      ),
    );
  } catch {
    // storage is shut off, or holds what we never wrote
    return {};
  }
}

export function storeSound(sound: StoredSound): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(sound));
  } catch {
    // it holds for this visit
  }
}
