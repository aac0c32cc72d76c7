/** What Explore asks: plain data in, plain data out. */
import type { Setup } from '$lib/setup/setup';
import { compile } from '$lib/engine/instrument';
import { Cached } from '$lib/engine/memo';
import type { RankedVoicing, RankedVoicings, Searched } from '$lib/engine/rankedVoicings';
import { answer } from './answer';
import type { Loosened } from './nearest';
import { foldedPositions, type OctaveRow } from './positions';
import type { Asked } from './question';

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

const answered = (setup: Setup, { texts, question }: Asked): Answered =>
  compile(setup).once(ANSWERED, JSON.stringify(texts), () => {
    const ranking = answer(setup, question);
    return { ranking, positions: foldedPositions(ranking) };
  });

/** Answers a question; `most` positions are told. What would work instead is looked for where nothing is found. */
export async function find(setup: Setup, asked: Asked, most: number): Promise<Findings> {
  const { ranking, positions } = answered(setup, asked);
  return {
    searched: ranking.searched,
    count: ranking.count,
    positionCount: positions.length,
    positions: more(setup, asked, 0, most),
    nearest: ranking.count === 0 ? (await import('./nearest')).nearest(setup, asked.texts) : [],
  };
}

/** Further positions of an answer. */
export function more(setup: Setup, asked: Asked, from: number, most: number): PositionRows[] {
  const { ranking, positions } = answered(setup, asked);
  return positions
    .slice(from, from + most)
    .map((rows) => rows.map(({ index, octaves }) => ({ ...ranking.at(index), octaves })));
}
