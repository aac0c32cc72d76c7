/** What it costs to hold what is no row of the ranking. */
import { barTerms } from '$lib/effort/bar';
import { effortOf, type Effort } from '$lib/effort/effort';
import { feetTerms } from '$lib/effort/feet';
import { pickingTerms } from '$lib/effort/picking';
import type { Question } from '$lib/answers/question';
import type { Hold } from '$lib/search/hold';
import type { Setup } from '$lib/setup/setup';

/** By the weighting of the question, where there is one. */
export function heldEffort(
  setup: Setup,
  { neck, strings, engaged, fret, slant }: Hold,
  asked: Question | undefined,
): Effort {
  const played = setup.necks[neck - 1];
  return effortOf(
    [
      ...feetTerms(setup, engaged),
      ...(played && strings.length > 0 ? pickingTerms(played, strings) : []),
      ...barTerms(setup, fret, asked?.home, slant),
    ],
    asked?.balance,
  );
}
