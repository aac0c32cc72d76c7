/**
 * What the chart by chord type can show. Voicings are all different ones on whatever root, as the Bench
 * and Change count them; the other figures are of one chord, the mean of its twelve roots.
 */
import type { TypeCoverage } from '$lib/coverage/types';

export type ChartMeasureId = 'voicings' | 'places' | 'melody' | 'basses' | 'least' | 'middle';

export interface ChartMeasure {
  readonly id: ChartMeasureId;
  readonly name: string;
  readonly better: 'more' | 'less';
  readonly valueOf: (type: TypeCoverage) => number | null;
}

export const CHART_MEASURES: readonly ChartMeasure[] = [
  {
    id: 'voicings',
    name: 'voicings along the neck',
    better: 'more',
    valueOf: ({ voicings }) => voicings,
  },
  {
    id: 'places',
    name: 'places along the neck',
    better: 'more',
    valueOf: ({ places }) => places / 12,
  },
  {
    id: 'melody',
    name: 'melody notes on top',
    better: 'more',
    valueOf: ({ melody }) => melody / 12,
  },
  { id: 'basses', name: 'bass notes', better: 'more', valueOf: ({ basses }) => basses / 12 },
  {
    id: 'least',
    name: 'effort of the easiest voicing',
    better: 'less',
    valueOf: ({ effort }) => effort.least,
  },
  {
    id: 'middle',
    name: 'effort of the middle voicing',
    better: 'less',
    valueOf: ({ effort }) => effort.median,
  },
];

export function chartMeasure(id: ChartMeasureId): ChartMeasure {
  const measure = CHART_MEASURES.find((each) => each.id === id);
  if (measure === undefined) throw new Error(`no measure “${id}”`);
  return measure;
}
