/** Strings that need more rods than their fingers take, and that as a sentence. */
import type { Setup } from '$lib/setup/setup';
import { capacities, type Capacity } from './capacity';

/** Whether anything is pulled by rods: a setup without controls has no changer. */
const hasRods = ({ controls }: Setup): boolean => controls.some(({ pulls }) => pulls.length > 0);

const count = (many: number, one: string): string => `${many} ${one}${many === 1 ? '' : 's'}`;

/** `string 5 needs 2 raises and 2 lowers; yours has 3 and 2`, without a full stop. */
export function capacityText(
  { neck, string, raises, lowers, raisesHad, lowersHad, told }: Capacity,
  necks: number,
): string {
  const of = necks > 1 ? ` of neck ${neck}` : '';
  const needs = `String ${string}${of} needs ${count(raises, 'raise')} and ${count(lowers, 'lower')}`;
  if (!told.raises && !told.lowers)
    return `${needs}; a usual changer has ${raisesHad} and ${lowersHad}, and nothing is entered of yours`;
  const guessed =
    told.raises && told.lowers ? '' : ` (its ${told.raises ? 'lowers' : 'raises'} taken as usual)`;
  return `${needs}; yours has ${raisesHad} and ${lowersHad}${guessed}`;
}

/** Strings that need more rods than their fingers take. */
export const overCapacity = (setup: Setup): Capacity[] =>
  hasRods(setup) ? capacities(setup).filter(({ fits }) => !fits) : [];
