/** How a player likes to be accompanied, kept on this device. */
import { storeChoices, storedChoices, type StoredChoices } from './choices';

const KEY = 'gripwright-band';

export const storedBand = (): StoredChoices => storedChoices(KEY);

export function storeBand(band: StoredChoices): void {
  storeChoices(KEY, band);
}
