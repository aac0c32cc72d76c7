/**
 * What is said of a string in a word or two: whether it bears its load, and whether it is among those
 * that wear out first. Both in one reading, for a string that bears its load well within its strength may
 * be the very one that breaks.
 */
import type { Setup } from '$lib/setup/setup';
import type { Band } from './bands';
import type { Wear } from './fatigue';
import type { Load } from './loads';

/** Pulls borne against those that the first string bears: below this a string wears out nearly as soon. */
const NEARLY_AS_SOON = 1.5;

const LOAD_WORDS: Readonly<Record<keyof Load['bands'], Readonly<Record<Band, string>>>> = {
  strength: { fine: '', near: 'close to breaking', beyond: 'over the limit' },
  slack: { fine: '', near: 'nearly slack', beyond: 'slack' },
  heavy: { fine: '', near: 'heavy', beyond: 'far too heavy' },
};

/** What is said of the load alone: the worst of it, or that the string holds. */
function loadWords({ bands, band }: Load): string {
  if (band === 'fine') return 'holds';
  return (['strength', 'slack', 'heavy'] as const)
    .flatMap((about) => (bands[about] === band ? [LOAD_WORDS[about][band]] : []))
    .join(', ');
}

/** What is said of its wear; nothing where no control pulls it, or others go long before it. */
function wearWords({ rank, pulls, times }: Wear): string {
  if (pulls.length === 0) return '';
  if (rank === 1) return 'first to wear';
  return times !== undefined && times < NEARLY_AS_SOON ? 'wears nearly as soon' : '';
}

/** `holds`, `holds, first to wear`, `close to breaking, wears nearly as soon`. */
export const verdictOf = (load: Load, wear: Wear | undefined): string =>
  [loadWords(load), wear === undefined ? '' : wearWords(wear)]
    .filter((words) => words !== '')
    .join(', ');

/** The wear of a string among those of its setup. */
export const wearAt = (
  worn: readonly Wear[],
  { neck, string }: Pick<Wear, 'neck' | 'string'>,
): Wear | undefined => worn.find((each) => each.neck === neck && each.string === string);

/**
 * The string that wears out first, as a sentence beside a verdict on load; nothing where no control pulls
 * any string.
 */
export function firstToWearText(setup: Setup, worn: readonly Wear[]): string | undefined {
  const first = worn.find(({ rank, pulls }) => rank === 1 && pulls.length > 0);
  if (first === undefined) return undefined;
  const of = setup.necks.length > 1 ? ` of ${setup.necks[first.neck - 1]?.name ?? ''}` : '';
  return `The first to wear out is string ${first.string}${of}.`;
}
