/** The limits of a search: what may be asked besides the chord and its key. */
import { QUESTION_PARTS } from '$lib/answers/question';
import type { AddressTexts } from './address';

export const LIMITS = QUESTION_PARTS.filter((part) => part !== 'chord' && part !== 'key');

/** How many are set. */
export const limitCount = (texts: AddressTexts): number =>
  LIMITS.filter((part) => texts[part]).length;

/** Adds an item to a list of texts, or takes it out. */
export function toggled(list: string | undefined, item: string): string {
  const items = (list ?? '').split(',').filter((each) => each !== '');
  return (items.includes(item) ? items.filter((each) => each !== item) : [...items, item]).join();
}
