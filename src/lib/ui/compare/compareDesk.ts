/** What the worker of Compare does for the page: plain data in, plain data out. */
import { compare, type Comparison, type ListName } from '$lib/coverage/compare';
import type { CoverageOptions } from '$lib/coverage/coverage';
import type { TypeDifference } from '$lib/coverage/differences';
import type { Measured } from '$lib/coverage/measures';
import type { Pocket } from '$lib/coverage/pockets';
import type { Repertoire } from '$lib/theory/repertoire';
import type { ComparedSound, TypeCount } from '$lib/coverage/soundLists';
import type { Setup } from '$lib/setup/setup';

export interface ListFindings {
  readonly count: number;
  readonly patterns: number;
  readonly byType: readonly TypeCount[];
}

export interface Weighed {
  readonly measures: { readonly a: Measured; readonly b: Measured };
  /** Most different first. */
  readonly types: readonly TypeDifference[];
  readonly pockets: { readonly a: readonly Pocket[]; readonly b: readonly Pocket[] };
  /** Frets whose pockets differ, most different first. */
  readonly differingFrets: readonly number[];
  readonly lists: Readonly<Record<ListName, ListFindings>>;
}

/** Setups that were weighed lately; what is worked out about one is kept with it. */
const MOST_KEPT = 4;

export class CompareDesk {
  #comparison: Comparison | undefined;
  readonly #setups = new Map<string, Setup>();

  /** A message brings a copy each time; the same setup is to be the same object. */
  #known(setup: Setup): Setup {
    const text = JSON.stringify(setup);
    const known = this.#setups.get(text) ?? setup;
    this.#setups.delete(text);
    this.#setups.set(text, known);
    const [oldest] = this.#setups.keys();
    if (this.#setups.size > MOST_KEPT && oldest !== undefined) this.#setups.delete(oldest);
    return known;
  }

  weigh(a: Setup, b: Setup, repertoire: Repertoire, options: CoverageOptions): Weighed {
    const comparison = compare(this.#known(a), this.#known(b), repertoire, options);
    this.#comparison = comparison;
    const list = (name: ListName): ListFindings => {
      const { count, patterns, byType } = comparison[name];
      return { count, patterns, byType };
    };
    return {
      measures: comparison.measures,
      types: comparison.types,
      pockets: { a: comparison.a.pockets, b: comparison.b.pockets },
      differingFrets: comparison.pockets
        .filter((each) =>
          [each.onlyA, each.onlyB, each.wholerA, each.wholerB].some((chords) => chords.length > 0),
        )
        .map(({ fret }) => fret),
      lists: {
        onlyA: list('onlyA'),
        onlyB: list('onlyB'),
        easierA: list('easierA'),
        easierB: list('easierB'),
      },
    };
  }

  /** Entries of a list of the last comparison; of one type only where that is named. */
  entries(name: ListName, from: number, most: number, type?: string): ComparedSound[] {
    return this.#comparison?.[name].entries(from, most, type) ?? [];
  }
}
