/** Chords that nothing as easy as a control gives. */
import { engagedCode } from '$lib/setup/engagedText';
import { combinations, type Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { gripsOf, stringsIn } from '$lib/search/grip';
import { easiestWays } from './easiest';
import { easeOf } from './ease';
import type { UseGround } from './uses';

/**
 * What takes less than half a pedal more is as easy: in thousandths of an effort. Half a pedal is the
 * least that a player feels as another hold; a string picked more and the side of a knee are less.
 */
export const AS_EASY = 500;

/** A chord that nothing as easy gives. */
export interface Opened {
  readonly chordNumber: number;
  /** It lies on a grip of the control; else on others alone. */
  readonly everyday: boolean;
  readonly neck: number;
  readonly engaged: Choice;
  /** Grips on which that hold gives it, easiest first. */
  readonly grips: readonly (readonly number[])[];
}

const isWith = (choice: Choice, id: string): boolean => choice.some((each) => each.id === id);

const everyGrip = (setup: Setup): number[][][] =>
  setup.necks.map(({ strings }) => gripsOf(strings.length, [3, 4]).map((grip) => stringsIn(grip)));

/** Chords that lie easier with the control than with anything else, by `AS_EASY` at least. */
export function openedBy(
  { setup, id, by, clear }: UseGround,
  own: readonly (readonly (readonly number[])[])[],
  otherwise: (chordNumber: number) => number,
): Opened[] {
  const withIt = [...combinations(setup)].filter((choice) => isWith(choice, id));
  const all = everyGrip(setup);
  const opened: (Opened & { readonly effort: number })[] = [];
  const met = new Set<number>();
  for (const everyday of [true, false])
    for (const [chordNumber, ways] of easiestWays(
      setup,
      withIt,
      everyday ? own : all,
      clear,
      AS_EASY,
    )) {
      const [first] = ways;
      if (first === undefined || met.has(chordNumber)) continue;
      if (otherwise(chordNumber) - first.effort < AS_EASY) continue;
      met.add(chordNumber);
      const same = ways.filter(
        ({ neck, engaged }) =>
          neck === first.neck && engagedCode(engaged) === engagedCode(first.engaged),
      );
      opened.push({
        chordNumber,
        everyday,
        neck: first.neck,
        engaged: first.engaged,
        grips: same.map(({ strings }) => strings),
        effort: first.effort,
      });
    }
  const worth = ({ chordNumber, effort }: (typeof opened)[number]): number =>
    (by.weight[chordNumber] as number) *
    (by.tones[Math.floor(chordNumber / 12)] as number) *
    easeOf(effort, false);
  const many = ({ engaged }: Opened): number => Number(engaged.length > 2);
  return opened
    .sort(
      (a, b) =>
        Number(b.everyday) - Number(a.everyday) ||
        // with one other control at most: those are learned first
        many(a) - many(b) ||
        worth(b) - worth(a) ||
        a.chordNumber - b.chordNumber,
    )
    .map(({ effort: _, ...each }) => each);
}

/** By chord number: the least effort without the control, in thousandths; endless where nothing gives it. */
export function withoutIt({ setup, id, clear }: UseGround): (chordNumber: number) => number {
  const without = easiestWays(
    setup,
    [...combinations(setup)].filter((choice) => !isWith(choice, id)),
    everyGrip(setup),
    clear,
    0,
  );
  return (chordNumber) => without.get(chordNumber)?.[0]?.effort ?? Infinity;
}
