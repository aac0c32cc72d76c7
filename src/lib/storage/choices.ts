/** What a player has chosen, as plain values kept on this device under a name. */

/** Everything that is kept, as plain values. Whoever uses them knows which ones there can be. */
export type StoredChoices = Readonly<Record<string, string | number | boolean>>;

/** A name of the program alone: what is kept under it goes along into the file with everything. */
type ChoicesName = `gripwright-${string}`;

export function storedChoices(name: ChoicesName): StoredChoices {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(name) ?? '{}');
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

export function storeChoices(name: ChoicesName, choices: StoredChoices): void {
  try {
    localStorage.setItem(name, JSON.stringify(choices));
  } catch {
    // it holds for this visit
  }
}
