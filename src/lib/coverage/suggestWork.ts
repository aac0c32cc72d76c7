/**
 * The work of a search for pulls: pieces of the candidates, done by as many hands as there are, one after
 * another, and what they find joined as it comes in. It can be stopped and taken up again; a piece that
 * was not finished is done again. The page's workers and the terminal's threads are such hands.
 */
import type { CandidateRange, Suggestions } from './suggestion';
import { joinSuggestions, piecesOf } from './suggestionParts';

/**
 * One of the hands, numbered from 0, does a piece; it fails by rejecting. What is known already says what
 * need not be told.
 */
export type Doing<Found, Known> = (
  piece: CandidateRange,
  known: Known,
  hand: number,
) => Promise<Found>;

/** How the parts of a search are joined, and what the ones that are known ask of those that come. */
export interface Joining<Found, Known> {
  join(parts: readonly [Found, Found]): Found;
  known(soFar: Found | undefined): Known;
}

/** Work on some pieces, from `run` to the end or to `stop`, and on again with another `run`. */
export class PieceWork<Found, Known> {
  readonly #onpart: (soFar: Found) => void;
  readonly #joining: Joining<Found, Known>;
  #left: CandidateRange[];
  /** Pieces that a hand has and has not finished. */
  #doing: CandidateRange[] = [];
  #turn = 0;
  #soFar: Found | undefined;

  /**
   * @param onpart told all that was found so far, whenever a piece is done
   * @param soFar what was found before
   */
  constructor(
    pieces: readonly CandidateRange[],
    joining: Joining<Found, Known>,
    onpart: (soFar: Found) => void,
    soFar?: Found,
  ) {
    this.#left = [...pieces];
    this.#joining = joining;
    this.#onpart = onpart;
    this.#soFar = soFar;
  }

  get soFar(): Found | undefined {
    return this.#soFar;
  }

  /** Pieces that are not begun. */
  get left(): number {
    return this.#left.length;
  }

  /** Works until nothing is left, or until it is stopped; rejects where a piece fails, and is stopped then. */
  async run(hands: number, doPiece: Doing<Found, Known>): Promise<void> {
    const turn = ++this.#turn;
    const work = async (hand: number): Promise<void> => {
      while (turn === this.#turn) {
        const piece = this.#left.shift();
        if (piece === undefined) return;
        this.#doing.push(piece);
        let part: Found;
        try {
          part = await doPiece(piece, this.#joining.known(this.#soFar), hand);
        } catch (error) {
          // what fails after a stop is nobody's; the piece is back among those that are left
          if (turn !== this.#turn) return;
          this.stop();
          throw error;
        }
        if (turn !== this.#turn) return;
        this.#doing = this.#doing.filter((each) => each !== piece);
        this.#soFar = this.#soFar === undefined ? part : this.#joining.join([this.#soFar, part]);
        this.#onpart(this.#soFar);
      }
    };
    const many = Math.min(hands, this.#left.length);
    await Promise.all(Array.from({ length: many }, (_, hand) => work(hand)));
  }

  stop(): void {
    this.#turn++;
    this.#left = [...this.#doing, ...this.#left];
    this.#doing = [];
  }
}

/** What scores below what is known need not be told: as many as are wanted have scored that already. */
const JOINING: Joining<Suggestions, number> = {
  join: joinSuggestions,
  known: (soFar) =>
    soFar !== undefined && soFar.limit > 0 && soFar.best.length === soFar.limit
      ? (soFar.best.at(-1)?.score ?? 0)
      : 0,
};

/** The work on one range of the candidates of one station. */
export class SuggestWork extends PieceWork<Suggestions, number> {
  constructor(range: CandidateRange, onpart: (soFar: Suggestions) => void) {
    super(piecesOf(range), JOINING, onpart);
  }
}
