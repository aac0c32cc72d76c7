/** What Explore asks: plain data in, plain data out. */
import type { Setup } from '$lib/setup/setup';
import { compile } from '$lib/engine/instrument';
import { Cached } from '$lib/engine/memo';
import type { RankedVoicing, RankedVoicings, Searched } from '$lib/engine/rankedVoicings';
import { answer } from './answer';
import { nearest, type Loosened } from './nearest';
import { foldedPositions, type OctaveRow } from './positions';
import { questionReadBefore, type QuestionTexts } from './question';

/** A voicing, and the frets at which the same strings and controls sound it in other octaves, ascending. */
export interface FoundRow extends RankedVoicing {
  readonly octaves: readonly number[];
}

/** A hand position with its grips, easiest first. */
export type PositionRows = readonly FoundRow[];

export interface Findings {
  readonly searched: Searched;
  /** Every voicing, in every octave. */
  readonly count: number;
  /** Positions with octaves folded. */
  readonly positionCount: number;
  /** The first positions, as many as were asked for. */
  readonly positions: readonly PositionRows[];
  /** Only where nothing is found. */
  readonly nearest: readonly Loosened[];
}

interface Answered {
  readonly ranking: RankedVoicings;
  /** Rows with octaves folded, position by position. */
  readonly positions: readonly (readonly OctaveRow[])[];
}

// the last few questions, so that more of their answers can be told without searching again
const ANSWERED = new Cached<Answered>(4);

const answered = (setup: Setup, texts: QuestionTexts): Answered =>
  compile(setup).once(ANSWERED, JSON.stringify(texts), () => {
    const ranking = answer(setup, questionReadBefore(setup, texts));
    return { ranking, positions: foldedPositions(ranking) };
  });

/** Answers a question whose texts have been read before; `most` positions are told. */
export function find(setup: Setup, texts: QuestionTexts, most: number): Findings {
  const { ranking, positions } = answered(setup, texts);
  return {
    searched: ranking.searched,
    count: ranking.count,
    positionCount: positions.length,
    positions: more(setup, texts, 0, most),
    nearest: ranking.count === 0 ? nearest(setup, texts) : [],
  };
}

/** Further positions of an answer. */
export function more(
  setup: Setup,
  texts: QuestionTexts,
  from: number,
  most: number,
): PositionRows[] {
  const { ranking, positions } = answered(setup, texts);
  return positions
    .slice(from, from + most)
    .map((rows) => rows.map(({ index, octaves }) => ({ ...ranking.at(index), octaves })));
}
