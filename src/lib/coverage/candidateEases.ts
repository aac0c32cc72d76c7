/** What a candidate of one control brings to the eases: its additions brought in, looked at and taken out again. */
import {
  amountsAt,
  setOf,
  type Candidates,
  type Movable,
  type StringSet,
} from '$lib/setup/candidates';
import { pullCode, stringOfPull, withPull, type Additions, type NeckAdditions } from './additions';
import type { Eases } from './ease';
import type { Yardstick } from './yardstick';

/** One neck with what is there without the control, and what its pulls add. */
export interface AddedNeck {
  readonly rest: Eases;
  readonly additions: NeckAdditions;
}

/** The eases by neck, as they are without the control but while a candidate is looked at. */
export class CandidateEases {
  readonly now: readonly Eases[];
  /** The sum that the candidate adds, while it is looked at; a whole number. */
  added = 0;
  readonly #by: Yardstick;
  readonly #candidates: Candidates;
  readonly #necks: readonly AddedNeck[];
  // the pulls of a candidate on one neck
  readonly #own: number[] = [];
  // what the candidate changed, to be put back
  readonly #changedNeck: number[] = [];
  readonly #changedSpot: number[] = [];

  constructor(by: Yardstick, candidates: Candidates, necks: readonly AddedNeck[]) {
    this.#by = by;
    this.#candidates = candidates;
    this.#necks = necks;
    this.now = necks.map(({ rest }) => rest.slice());
  }

  /** Brings a candidate's additions in, lets somebody look, and takes them out again. */
  with<T>(candidate: number, look: () => T): T {
    const { strings, first } = this.#candidates.sets[
      setOf(this.#candidates, candidate)
    ] as StringSet;
    const amounts = amountsAt(strings, candidate - first);
    const own = this.#own;
    for (let neck = 0; neck < this.#necks.length; neck++) {
      own.length = 0;
      let pulled = 0;
      for (let i = 0; i < strings.length; i++) {
        const string = strings[i] as Movable;
        if (string.neck !== neck + 1) continue;
        own.push(pullCode(string.string - 1, amounts[i] as number));
        pulled |= 1 << (string.string - 1);
      }
      for (let choice = 0; choice < 1 << own.length; choice++) {
        let pulls = 0;
        let part = 0;
        for (let i = 0; i < own.length; i++) {
          if ((choice & (1 << i)) === 0) continue;
          pulls = withPull(pulls, own[i] as number);
          part |= 1 << stringOfPull(own[i] as number);
        }
        this.#apply(neck, (this.#necks[neck] as AddedNeck).additions.of(pulls), pulled, part);
      }
    }
    const seen = look();
    this.#putBack();
    return seen;
  }

  /** The spots that the candidate which is looked at has made easier, each once: by neck, then by spot. */
  eachSpot(tell: (neck: number, spot: number, ease: number) => void): void {
    const met = new Set<number>();
    this.#changedSpot.forEach((spot, i) => {
      const neck = this.#changedNeck[i] as number;
      const key = neck * 65536 + spot;
      if (met.has(key)) return;
      met.add(key);
      tell(neck, spot, (this.now[neck] as Eases)[spot] as number);
    });
  }

  #apply(neck: number, additions: Additions, pulled: number, part: number): void {
    const { grip, spot, ease } = additions;
    const { weight } = this.#by;
    const eases = this.now[neck] as Eases;
    for (let row = 0; row < grip.length; row++) {
      if (((grip[row] as number) & pulled) !== part) continue;
      const at = spot[row] as number;
      const more = (ease[row] as number) - (eases[at] as number);
      if (more <= 0) continue;
      this.added += more * (weight[(at / 12) | 0] as number);
      eases[at] = ease[row] as number;
      this.#changedNeck.push(neck);
      this.#changedSpot.push(at);
    }
  }

  #putBack(): void {
    for (let i = 0; i < this.#changedSpot.length; i++) {
      const neck = this.#changedNeck[i] as number;
      const spot = this.#changedSpot[i] as number;
      (this.now[neck] as Eases)[spot] = (this.#necks[neck] as AddedNeck).rest[spot] as number;
    }
    this.#changedNeck.length = this.#changedSpot.length = 0;
    this.added = 0;
  }
}
