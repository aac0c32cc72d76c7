/**
 * How a search for pulls is cut into pieces and its results are joined: plain lists, so that whoever hands the
 * pieces out needs nothing of the search.
 */
import { joinedRanges, type CandidateRange } from './ranges';
import type { Suggested, Suggestions } from './suggestion';

const inOrder = (a: Suggested, b: Suggested): number =>
  b.score - a.score || a.candidate - b.candidate;

const firstOf = (best: readonly Suggested[], limit: number): readonly Suggested[] =>
  limit === 0 ? best : best.slice(0, limit);

/** Joins results of one question, in any order; where they overlap nothing counts twice. */
export function joinSuggestions(parts: readonly Suggestions[]): Suggestions {
  const [first] = parts;
  if (first === undefined) throw new Error('nothing to join');
  const other = parts.find(({ question }) => question !== first.question);
  if (other !== undefined) throw new Error(`question ${other.question} beside ${first.question}`);
  const ranges = joinedRanges(parts.flatMap((part) => part.ranges));
  const best = new Map(parts.flatMap((part) => part.best).map((each) => [each.candidate, each]));
  return {
    question: first.question,
    limit: first.limit,
    candidates: first.candidates,
    ranges,
    done: ranges.reduce((sum, [from, to]) => sum + to - from + 1, 0),
    best: firstOf([...best.values()].sort(inOrder), first.limit),
  };
}

/** The first piece is small, so that there is something to see at once. */
const FIRST_PIECE = 120;
const PIECE = 900;

/** A range cut into pieces that take about equally long. */
export function piecesOf([first, last]: CandidateRange): CandidateRange[] {
  const pieces: CandidateRange[] = [];
  for (let from = first; from <= last;) {
    const to = Math.min(last, from + (pieces.length === 0 ? FIRST_PIECE : PIECE) - 1);
    pieces.push([from, to]);
    from = to + 1;
  }
  return pieces;
}
