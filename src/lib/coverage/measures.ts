/**
 * One number for each thing that a player weighs two setups by. Figures of chord types are means over
 * the repertoire, each type weighing as much as it is used.
 */
import type { Coverage } from './coverage';
import type { Repertoire } from '$lib/theory/repertoire';
import type { TypeCoverage } from './types';

export interface Measure {
  readonly id: MeasureId;
  /** What is measured, short. */
  readonly name: string;
  /** What the number counts, for a line of its own. */
  readonly meaning: string;
  readonly unit: '' | '%' | 'mm';
  /** Decimals that are worth showing. */
  readonly digits: 0 | 1 | 2;
  readonly better: 'more' | 'less';
}

export type MeasureId =
  | 'covered'
  | 'voicings'
  | 'places'
  | 'basses'
  | 'melody'
  | 'least'
  | 'median'
  | 'pocket'
  | 'pocketComplete'
  | 'travel';

const MEASURE = (
  id: MeasureId,
  name: string,
  meaning: string,
  better: Measure['better'] = 'more',
  digits: Measure['digits'] = 1,
  unit: Measure['unit'] = '',
): Measure => ({ id, name, meaning, unit, digits, better });

/** All measures, in the order in which they are shown. */
export const MEASURES: readonly Measure[] = [
  MEASURE('covered', 'Repertoire covered', 'share of use that can be played', 'more', 1, '%'),
  MEASURE('voicings', 'Voicings', 'different ones of a chord type, on all roots', 'more', 0),
  MEASURE('places', 'Positions', 'of one chord: fret and controls', 'more', 0),
  MEASURE('basses', 'Bass notes', 'pitches that can be lowest in one chord'),
  MEASURE('melody', 'Melody notes', 'pitches that can be on top of one chord'),
  MEASURE('least', 'Least effort', 'of the easiest voicing', 'less', 2),
  MEASURE('median', 'Median effort', 'half of the voicings are easier', 'less', 2),
  MEASURE('pocket', 'Chords in a pocket', 'of the key, at one bar position'),
  MEASURE('pocketComplete', 'Complete in a pocket', 'with every tone, at one bar position'),
  MEASURE('travel', 'Bar travel', 'from one chord to the next', 'less', 1, 'mm'),
];

/** The numbers of a setup; `null` where there is nothing to take a mean of. */
export type Measured = Readonly<Record<MeasureId, number | null>>;

/**
 * The numbers of a setup from its coverage of that same repertoire, which gives the weights of the
 * means: `covered` in percent, `travel` in millimetres, efforts in units of one easy pedal, the others
 * are counts, for one root where the measure says so.
 */
export function measured(coverage: Coverage, repertoire: Repertoire): Measured {
  /** Mean by use over those types that have the figure. */
  const mean = (figure: (type: TypeCoverage) => number | null): number | null => {
    let sum = 0;
    let weights = 0;
    coverage.types.forEach((type, index) => {
      const value = figure(type);
      const weight = repertoire[index]?.weight ?? 0;
      if (value === null) return;
      sum += value * weight;
      weights += weight;
    });
    return weights === 0 ? null : sum / weights;
  };
  const { pockets } = coverage;
  const inPocket = (complete: boolean): number =>
    pockets.reduce(
      (sum, { chords }) =>
        sum + chords.filter(({ match }) => !complete || match === 'complete').length,
      0,
    ) / pockets.length;
  return {
    covered: mean(({ voicings }) => (voicings > 0 ? 100 : 0)),
    voicings: mean(({ voicings }) => voicings),
    places: mean(({ places }) => places / 12),
    basses: mean(({ basses }) => basses / 12),
    melody: mean(({ melody }) => melody / 12),
    least: mean(({ effort }) => effort.least),
    median: mean(({ effort }) => effort.median),
    pocket: inPocket(false),
    pocketComplete: inPocket(true),
    travel: coverage.travel.averageMm,
  };
}
