/** Uses of a control in lists, in the order in which they are worth learning. */
import { chromaOf, type Midi } from '$lib/theory/pitch';
import { engagedCode } from '$lib/setup/engagedText';
import type { Choice } from '$lib/setup/reach';
import { isInSecondHome, type SecondHome } from '$lib/setup/secondHome';
import type { Engaged, Setup } from '$lib/setup/setup';
import { worthOf, type Use } from './uses';
import type { Yardstick } from './yardstick';

/** One hold of the legs that gives a chord on grips of the control. */
export interface Position {
  readonly neck: number;
  readonly chordNumber: number;
  readonly engaged: Choice;
  /** Easiest first. */
  readonly grips: readonly (readonly number[])[];
  /** The easiest of its uses. */
  readonly use: Use;
}

/** The bar still, the strings ringing, the control engaged: one chord becomes another. */
export interface Move {
  readonly neck: number;
  /** What is engaged before and stays. */
  readonly held: Choice;
  readonly pressed: Engaged;
  readonly was: number;
  readonly is: number;
  /** Grips on which it works, the easiest first; each with its pitches at the nut. */
  readonly grips: readonly {
    readonly strings: readonly number[];
    readonly from: readonly Midi[];
    readonly to: readonly Midi[];
  }[];
  /** Thousandths, of the hold that it leads to. */
  readonly effort: number;
}

const inOrderOf = (setup: Setup, engaged: Choice): Choice =>
  setup.controls.flatMap(({ id }) => engaged.filter((each) => each.id === id));

/** The uses of each hold and chord together, easiest first. */
function grouped<T>(
  uses: readonly Use[],
  key: (use: Use) => string | undefined,
  make: (first: Use, all: readonly Use[]) => T,
): T[] {
  const groups = new Map<string, Use[]>();
  for (const use of uses) {
    const at = key(use);
    if (at === undefined) continue;
    const group = groups.get(at);
    if (group === undefined) groups.set(at, [use]);
    else group.push(use);
  }
  return [...groups.values()].map((all) => {
    const sorted = [...all].sort((a, b) => a.effort - b.effort);
    return make(sorted[0] as Use, sorted);
  });
}

/** Tells the holds of uses apart. */
export const holdOf = ({ neck, held, pressed }: Use): string =>
  `${neck}|${engagedCode(held)}|${pressed.state}`;

/** By neck, the second home of a universal one. */
export type SecondHomes = readonly (SecondHome | undefined)[];

/** What is held besides a home: the lever that makes the second one stays engaged like a tuning. */
export const besideHome = (
  homes: SecondHomes,
  { neck, held }: Pick<Use, 'neck' | 'held'>,
): Choice => {
  const second = homes[neck - 1];
  return second === undefined ? held : held.filter((each) => !isInSecondHome(second, [each]));
};

/** Does a move make the second home of the first, and is told by its chord? That is what its lever is there for. */
function makesHome(by: Yardstick, homes: SecondHomes, { neck, held, pressed, is }: Move): boolean {
  const second = homes[neck - 1];
  return (
    second !== undefined &&
    held.length === 0 &&
    isInSecondHome(second, [pressed]) &&
    chromaOf(is) === second.roots[0] &&
    by.types[Math.floor(is / 12)] === '6'
  );
}

/**
 * Fewer other controls first; then a move that works on more grips, for which keeping the root counts
 * as one grip more: it is the same chord in another colour, and what a player reaches for first. Before all of them
 * what makes a second home.
 */
const inOrder =
  (by: Yardstick, homes: SecondHomes) =>
  (a: Move, b: Move): number =>
    Number(makesHome(by, homes, b)) - Number(makesHome(by, homes, a)) ||
    besideHome(homes, a).length - besideHome(homes, b).length ||
    breadth(b) - breadth(a) ||
    // of two that are as broad the chord of more tones says more
    tonesOf(by, b.is) - tonesOf(by, a.is) ||
    a.effort - b.effort;
const tonesOf = (by: Yardstick, chordNumber: number): number =>
  by.tones[Math.floor(chordNumber / 12)] as number;
const breadth = ({ was, is, grips }: Move): number =>
  grips.length + (chromaOf(was) === chromaOf(is) ? 1 : 0);

/** Makes one list of uses into moves, in the order in which they are worth learning. */
export const movesIn = (by: Yardstick, uses: readonly Use[], homes: SecondHomes = []): Move[] =>
  grouped(
    uses,
    (use) => (use.was === undefined ? undefined : `${holdOf(use)}|${use.was}|${use.is}`),
    ({ neck, held, pressed, was, is, effort }, all): Move => ({
      neck,
      held,
      pressed,
      was: was ?? is,
      is,
      grips: all.map(({ strings, from, to }) => ({ strings, from, to })),
      effort,
    }),
  ).sort(inOrder(by, homes));

/** Makes uses into positions: fewer controls first, then by what they are worth. */
export function positionsIn(setup: Setup, by: Yardstick, uses: readonly Use[]): Position[] {
  return grouped(
    uses,
    (use) => `${holdOf(use)}|${use.is}`,
    (use, all): Position => ({
      neck: use.neck,
      chordNumber: use.is,
      engaged: inOrderOf(setup, [...use.held, use.pressed]),
      grips: all.map(({ strings }) => strings),
      use,
    }),
  ).sort((a, b) => a.engaged.length - b.engaged.length || broadWorth(by, b) - broadWorth(by, a));
}

/** What a position is worth: its chord's use by its ease, and a little more on several grips. */
export const broadWorth = (by: Yardstick, { use, grips }: Position): number =>
  worthOf(by, use) * Math.sqrt(grips.length);
