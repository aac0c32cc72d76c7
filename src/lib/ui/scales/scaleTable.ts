/** The neck while a scale is shown: its degrees under the bar, on every string that has one. */
import type { Scale } from '$lib/theory/scales';
import type { Setup } from '$lib/setup/setup';
import type { Hold } from '$lib/search/hold';
import { neckView, type Label } from '$lib/ui/explore/neckAdapter';
import type { NeckString, NeckView } from '$lib/ui/neck/neckView';

/** What is not of the scale is told only on strings that are picked. */
function ofScale({ tone, ...string }: NeckString): NeckString {
  if (tone === undefined || tone.colour !== 'plain') return { ...string, ...(tone && { tone }) };
  if (!string.picked) return string;
  const spoken = tone.spoken.replace('not in the chord', 'not in the scale');
  return { ...string, tone: { ...tone, spoken } };
}

/** The neck with the degrees of a scale, or its notes. */
export function scaleTable(setup: Setup, hold: Hold, scale: Scale, label: Label): NeckView {
  const view = neckView(setup, hold, scale, label);
  return { ...view, strings: view.strings.map(ofScale) };
}
