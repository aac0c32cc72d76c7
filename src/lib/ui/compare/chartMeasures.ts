/**
 * What the chart by chord type can show. Voicings are all different ones on whatever root, as the Bench
 * and Change count them; the other figures are of one chord, the mean of its twelve roots.
 */
import type { TypeCoverage } from '$lib/coverage/types';

export type ChartMeasureId = 'voicings' | 'places' | 'melody' | 'basses' | 'least' | 'middle';

export interface ChartMeasure {
  readonly id: ChartMeasureId;
  readonly name: string;
  /** What is counted, in a sentence that says who has more of it. */
  readonly noun: string;
  readonly better: 'more' | 'less';
  readonly valueOf: (type: TypeCoverage) => number | null;
}

export const CHART_MEASURES: readonly ChartMeasure[] = [
  {
    id: 'voicings',
    noun: 'voicings',
    name: 'voicings along the neck',
    better: 'more',
    valueOf: ({ voicings }) => voicings,
  },
  {
    id: 'places',
    noun: 'positions',
    name: 'positions along the neck',
    better: 'more',
    valueOf: ({ places }) => places / 12,
  },
  {
    id: 'melody',
    noun: 'melody notes',
    name: 'melody notes on top',
    better: 'more',
    valueOf: ({ melody }) => melody / 12,
  },
  {
    id: 'basses',
    noun: 'bass notes',
    name: 'bass notes',
    better: 'more',
    valueOf: ({ basses }) => basses / 12,
  },
  {
    id: 'least',
    noun: 'effort',
    name: 'effort of the easiest voicing',
    better: 'less',
    valueOf: ({ effort }) => effort.least,
  },
  {
    id: 'middle',
    noun: 'effort',
    name: 'median effort',
    better: 'less',
    valueOf: ({ effort }) => effort.median,
  },
];

export function chartMeasure(id: ChartMeasureId): ChartMeasure {
  const measure = CHART_MEASURES.find((each) => each.id === id);
  if (measure === undefined) throw new Error(`no measure “${id}”`);
  return measure;
}
