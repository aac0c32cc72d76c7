/** What Compare asks: plain data in, plain data out. */
import { compare, type Comparison } from '$lib/coverage/compare';
import type { ListName } from '$lib/coverage/listNames';
import type { CoverageOptions } from '$lib/coverage/coverage';
import type { TypeDifference } from '$lib/coverage/differences';
import type { Measured } from '$lib/coverage/measures';
import type { Pocket } from '$lib/coverage/pockets';
import type { Repertoire } from '$lib/theory/repertoire';
import type { ComparedSound, TypeCount } from '$lib/coverage/soundLists';
import { compile } from '$lib/engine/instrument';
import { Cached } from '$lib/engine/memo';
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

const COMPARISONS = new Cached<Comparison>(2);

/** The comparison of two setups; the last ones are remembered with the first. */
const comparisonOf = (
  a: Setup,
  b: Setup,
  repertoire: Repertoire,
  options: CoverageOptions,
): Comparison =>
  compile(a).once(COMPARISONS, JSON.stringify([b, repertoire, options]), () =>
    compare(a, b, repertoire, options),
  );

export function weighPair(
  a: Setup,
  b: Setup,
  repertoire: Repertoire,
  options: CoverageOptions,
): Weighed {
  const comparison = comparisonOf(a, b, repertoire, options);
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

/** Entries of a list of a comparison; of one type only where that is named. */
export const entries = (
  a: Setup,
  b: Setup,
  repertoire: Repertoire,
  options: CoverageOptions,
  name: ListName,
  from: number,
  most: number,
  type?: string,
): ComparedSound[] => comparisonOf(a, b, repertoire, options)[name].entries(from, most, type);
