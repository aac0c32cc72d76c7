/** The neck while a scale is shown: its degrees under the bar, on every string that has one. */
import type { Scale } from '$lib/theory/scales';
import type { Setup } from '$lib/setup/setup';
import type { Hold } from '$lib/search/hold';
import { neckView, type Label } from '$lib/ui/explore/neckAdapter';
import type { NeckString, NeckView } from '$lib/ui/neck/neckView';
import { degreeWords } from './scaleText';

/** What is not of the scale is told only on strings that are picked. */
function ofScale({ tone, ...string }: NeckString, degrees: NeckString | undefined): NeckString {
  if (tone === undefined) return string;
  if (tone.colour !== 'plain') {
    // a scale has degrees, where a chord has a third and a seventh
    const degree = degreeWords(degrees?.tone?.text ?? '');
    return { ...string, tone: { ...tone, spoken: tone.spoken.replace(/^[^,]+/u, degree) } };
  }
  if (!string.picked) return string;
  const spoken = tone.spoken.replace('not in the chord', 'not in the scale');
  return { ...string, tone: { ...tone, spoken } };
}

/** The neck with the degrees of a scale, or its notes. */
export function scaleTable(setup: Setup, hold: Hold, scale: Scale, label: Label): NeckView {
  const view = neckView(setup, hold, scale, label);
  const degrees = neckView(setup, hold, scale, 'tone').strings;
  return { ...view, strings: view.strings.map((string, at) => ofScale(string, degrees[at])) };
}
