/**
 * The work of a search for pulls: pieces of the candidates, done by as many hands as there are, one after
 * another, and what they find joined as it comes in. It can be stopped and taken up again; a piece that
 * was not finished is done again. The page's workers and the terminal's threads are such hands.
 */
import { joinSuggestions, piecesOf, type CandidateRange, type Suggestions } from './suggestion';

/**
 * One of the hands, numbered from 0, does a piece; it fails by rejecting. What scores below `least` need not
 * be told: as many as are wanted have scored that already.
 */
export type DoPiece = (piece: CandidateRange, least: number, hand: number) => Promise<Suggestions>;

/** The score below which nothing comes among the best any more. */
const leastOf = ({ best, limit }: Suggestions): number =>
  limit > 0 && best.length === limit ? (best.at(-1)?.score ?? 0) : 0;

/**
 * The work on one range of candidates, from `run` to the end or to `stop`, and on again with another
 * `run`.
 */
export class SuggestWork {
  readonly #onpart: (soFar: Suggestions) => void;
  #left: CandidateRange[];
  /** Pieces that a hand has and has not finished. */
  #doing: CandidateRange[] = [];
  #turn = 0;
  #soFar: Suggestions | undefined;

  /** @param onpart told all that was found so far, whenever a piece is done */
  constructor(range: CandidateRange, onpart: (soFar: Suggestions) => void) {
    this.#left = piecesOf(range);
    this.#onpart = onpart;
  }

  get soFar(): Suggestions | undefined {
    return this.#soFar;
  }

  /** Pieces that are not begun. */
  get left(): number {
    return this.#left.length;
  }

  /** Works until nothing is left, or until it is stopped; rejects where a piece fails, and is stopped then. */
  async run(hands: number, doPiece: DoPiece): Promise<void> {
    const turn = ++this.#turn;
    const work = async (hand: number): Promise<void> => {
      while (turn === this.#turn) {
        const piece = this.#left.shift();
        if (piece === undefined) return;
        this.#doing.push(piece);
        let part: Suggestions;
        try {
          part = await doPiece(piece, this.#soFar === undefined ? 0 : leastOf(this.#soFar), hand);
        } catch (error) {
          // what fails after a stop is nobody's; the piece is back among those that are left
          if (turn !== this.#turn) return;
          this.stop();
          throw error;
        }
        if (turn !== this.#turn) return;
        this.#doing = this.#doing.filter((each) => each !== piece);
        this.#soFar = this.#soFar === undefined ? part : joinSuggestions([this.#soFar, part]);
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
