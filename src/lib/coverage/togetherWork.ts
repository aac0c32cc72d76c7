/** The work of a search over several stations, unit by unit. */
import { askedBy, joinTogether, type Asked, type FoundTogether } from './foundTogether';
import { PieceWork, type Joining } from './suggestWork';
import type { CandidateRange } from './suggestion';

/** How a search over several stations is joined from its parts. */
const TOGETHER: Joining<FoundTogether, Asked> = {
  join: joinTogether,
  known: (soFar) => (soFar === undefined ? { last: 0, byStrings: [] } : askedBy(soFar)),
};

/** The work on the units of a search over several stations. */
export class TogetherWork extends PieceWork<FoundTogether, Asked> {
  constructor(
    pieces: readonly CandidateRange[],
    onpart: (soFar: FoundTogether) => void,
    before?: FoundTogether,
  ) {
    super(pieces, TOGETHER, onpart, before);
  }
}
