/** How clear the uses of several new controls are beside one another, as `change` scores them together. */
import type { PlainPull } from '$lib/setup/candidates';
import type { Setup } from '$lib/setup/setup';
import { clarityOfHeard, clarityWith, heardWithin, isIn, scoreOfControls } from './clarity';
import { useGround, type UseGround } from './uses';
import type { Yardstick } from './yardstick';

/** Bounds are sums in another order than scores: so much is lost to rounding at most, and far less. */
export const ROUNDING = 1 + 1e-9;

type Pulls = readonly PlainPull[];

/** What the pulls of one control can count: how many there are, and what they count together at most. */
export interface HeardAtMost {
  readonly pulls: number;
  readonly most: number;
}

/** No score of controls that are heard so is above this. */
export const scoreAtMost = (gain: number, pulls: number, most: number): number =>
  gain * clarityOfHeard(most, pulls) * ROUNDING;

/** How clear the use of pull sets for several stations is, each asked once. */
export class ClarityTogether {
  readonly #before: Setup;
  readonly #filled: Setup;
  readonly #ids: readonly string[];
  readonly #grounds: ReadonlyMap<string, UseGround>;
  readonly #alone: ReadonlyMap<string, UseGround>;

  /** @param filled the setup with the new controls, without pulls */
  constructor(before: Setup, filled: Setup, ids: readonly string[], by: Yardstick) {
    this.#before = before;
    this.#filled = filled;
    // in the order of the setup, as a change adds them up
    this.#ids = filled.controls.map(({ id }) => id).filter((id) => ids.includes(id));
    this.#grounds = new Map(ids.map((id) => [id, useGround(filled, id, by)]));
    this.#alone = new Map(
      [...this.#grounds].map(([id, ground]) => [
        id,
        {
          ...ground,
          helds: ground.helds.filter(({ held }) => !held.some((each) => ids.includes(each.id))),
        },
      ]),
    );
  }

  /** The control with these pulls stands there already, and is no change. */
  #isThere(id: string, pulls: Pulls): boolean {
    const control = this.#filled.controls.find((each) => each.id === id);
    return control !== undefined && isIn(this.#before, { ...control, pulls });
  }

  /** What the pulls of one control count at most, whatever pulls the others have. */
  atMost(id: string, pulls: Pulls): HeardAtMost {
    if (this.#isThere(id, pulls)) return { pulls: 0, most: 0 };
    const alone = this.#alone.get(id) as UseGround;
    const { sum, most } = heardWithin(alone, pulls);
    const isBeside = alone.helds.length < (this.#grounds.get(id) as UseGround).helds.length;
    return { pulls: pulls.length, most: isBeside ? most : sum };
  }

  /** The ground of one control where the others have their pulls. */
  groundOf(id: string, pullsOf: ReadonlyMap<string, Pulls>): UseGround {
    const ground = this.#grounds.get(id) as UseGround;
    return {
      ...ground,
      helds: ground.helds.map((each) => {
        const others = each.held.flatMap((engaged) => pullsOf.get(engaged.id) ?? []);
        if (others.length === 0) return each;
        return {
          ...each,
          necks: each.necks.map(({ raise, lower }, neck) => {
            const [up, down] = [[...raise], [...lower]];
            for (const pull of others) {
              if (pull.neck !== neck + 1) continue;
              const s = pull.string - 1;
              up[s] = Math.max(up[s] ?? 0, pull.semitones);
              down[s] = Math.min(down[s] ?? 0, pull.semitones);
            }
            return { raise: up, lower: down };
          }),
        };
      }),
    };
  }

  /** The score of a gain with these pulls, control by control. */
  scoreOf(gain: number, pullsOf: ReadonlyMap<string, Pulls>): number {
    return scoreOfControls(
      gain,
      this.#ids.flatMap((id) => {
        const pulls = pullsOf.get(id) ?? [];
        if (this.#isThere(id, pulls)) return [];
        return [{ pulls: pulls.length, clarity: clarityWith(this.groundOf(id, pullsOf), pulls) }];
      }),
    );
  }
}
