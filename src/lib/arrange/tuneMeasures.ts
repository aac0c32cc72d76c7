/** The steps of a tune measure by measure, in the order of playing. */
import type { Chord } from '$lib/theory/chord';
import { clocked, inOrder } from './inOrder';
import { SAME_PLACE, type Piece } from './piece';
import type { Metre } from './progression';
import type { TuneStep } from './tune';

/** A step with its number among all. */
export interface PlacedStep<Step extends TuneStep = TuneStep> {
  readonly step: Step;
  readonly index: number;
}

/** One measure as it is played. */
export interface TuneMeasure<Step extends TuneStep = TuneStep> {
  /** Its number as it is written, from 0. */
  readonly measure: number;
  /** Beats from the start, and how many it lasts. */
  readonly at: number;
  readonly lasts: number;
  /** Seconds from the start, and how many it lasts. */
  readonly seconds: number;
  readonly lastsSeconds: number;
  readonly metre: Metre;
  /** The name of the section that begins with it. */
  readonly section?: string;
  /** Those that begin in it. */
  readonly steps: readonly PlacedStep<Step>[];
  /** Chords that begin in it, by beats from the start. */
  readonly chords: readonly { readonly at: number; readonly chord: Chord | 'no chord' }[];
}

/** All measures in the order of playing, each with what begins in it. */
export function tuneMeasures<Step extends TuneStep>(
  piece: Piece,
  steps: readonly Step[],
): TuneMeasure<Step>[] {
  const { measures, moments } = inOrder(piece);
  const clocks = clocked(piece);
  let next = 0;
  return measures.map(({ measure, at, lasts, seconds, lastsSeconds }): TuneMeasure<Step> => {
    const end = at + lasts - SAME_PLACE;
    const own: PlacedStep<Step>[] = [];
    for (; next < steps.length; next++) {
      const step = steps[next] as Step;
      if (step.onset.at >= end) break;
      own.push({ step, index: next });
    }
    const section = piece.measures[measure]?.section;
    return {
      ...{ measure, at, lasts, seconds, lastsSeconds },
      metre: clocks[measure]?.metre ?? { beats: 4, unit: 4 },
      ...(section === undefined ? {} : { section }),
      steps: own,
      chords: moments
        .filter((each) => each.at >= at - SAME_PLACE && each.at < end)
        .map((each) => ({ at: each.at, chord: each.chord })),
    };
  });
}
