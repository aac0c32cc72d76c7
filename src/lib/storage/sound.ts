/** How a player likes to listen, kept on this device. */
import { storeChoices, storedChoices, type StoredChoices } from './choices';

const KEY = 'gripwright-sound';

export const storedSound = (): StoredChoices => storedChoices(KEY);

export function storeSound(sound: StoredChoices): void {
  storeChoices(KEY, sound);
}
