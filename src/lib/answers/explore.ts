/** What Explore asks: plain data in, plain data out. */
import type { Setup } from '$lib/setup/setup';
import { compile } from '$lib/engine/instrument';
import { Cached } from '$lib/engine/memo';
import type { RankedVoicing, RankedVoicings, Searched } from '$lib/engine/rankedVoicings';
import { answer } from './answer';
import { nearest, type Loosened } from './nearest';
import { positionsOf } from './positions';
import { questionReadBefore, type QuestionTexts } from './question';

/** A hand position with its grips, easiest first. */
export type PositionRows = readonly RankedVoicing[];

export interface Findings {
  readonly searched: Searched;
  readonly count: number;
  readonly positionCount: number;
  /** The first positions, as many as were asked for. */
  readonly positions: readonly PositionRows[];
  /** Only where nothing is found. */
  readonly nearest: readonly Loosened[];
}

interface Answered {
  readonly ranking: RankedVoicings;
  /** Rows of the ranking, position by position. */
  readonly positions: readonly (readonly number[])[];
}

// the last few questions, so that more of their answers can be told without searching again
const ANSWERED = new Cached<Answered>(4);

const answered = (setup: Setup, texts: QuestionTexts): Answered =>
  compile(setup).once(ANSWERED, JSON.stringify(texts), () => {
    const ranking = answer(setup, questionReadBefore(setup, texts));
    return { ranking, positions: positionsOf(ranking) };
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
    .map((indexes) => indexes.map((index) => ranking.at(index)));
}
