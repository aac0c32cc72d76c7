/**
 * What a control makes possible, in the order in which it is worth learning: what it does to the open
 * position with the bar still, where it leads together with each other control, the chords that nothing
 * as easy gives, and then everything on its grips.
 */
import { allowedSets, chordOf, defaultMatch, type Chord } from '$lib/theory/chord';
import { typeWithSuffix } from '$lib/theory/chordTypes';
import { chromaOf, type Chroma, type Midi } from '$lib/theory/pitch';
import { pcSetOf } from '$lib/theory/pcset';
import { commonRoot, nameInKey, type Key } from '$lib/theory/spelling';
import { engagedCode } from '$lib/setup/engagedText';
import { withoutControl } from '$lib/setup/proposal';
import { combinations, type Choice } from '$lib/setup/reach';
import type { Engaged, Setup } from '$lib/setup/setup';
import { sounding } from '$lib/setup/sounding';
import { gripsOf, stringsIn } from '$lib/search/grip';
import { feetPrice } from '$lib/effort/prices';
import { compile } from '$lib/engine/instrument';
import { effortOfVoicing } from '$lib/engine/rank';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { changeBetween, type Change } from './change';
import { easiestWays, type Way } from './easiest';
import { easeOf } from './gain';
import {
  gripsOfControl,
  tonicOf,
  useGround,
  usesWith,
  worthOf,
  type Use,
  type UseGround,
} from './uses';
import type { Yardstick } from './yardstick';

/**
 * What takes less than half a pedal more is as easy: in thousandths of an effort. Half a pedal is the
 * least that a player feels as another hold; a string picked more and the side of a knee are less.
 */
export const AS_EASY = 500;

/** Rows of each half of the short list at most: as many as fit on a teacher's page. */
const SHORT = 8;

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

export interface Lesson {
  readonly id: string;
  readonly setup: Setup;
  readonly by: Yardstick;
  /** The setup without the control, and with it. */
  readonly change: Change;
  /** By neck: the root of its open chord at the nut, in whose key everything is spelled. */
  readonly tonics: readonly Chroma[];
  /** What a teacher would write: moves from the open position, and one position with each other hold. */
  readonly short: { readonly moves: readonly Move[]; readonly positions: readonly Position[] };
  readonly opens: readonly Opened[];
  readonly everyday: readonly Position[];
  readonly moves: readonly Move[];
}

/** The key of a neck's open chord with the bar at a fret. */
export const keyAt = ({ tonics }: Pick<Lesson, 'tonics'>, neck: number, fret: number): Key => ({
  tonic: commonRoot(chromaOf((tonics[neck - 1] ?? 0) + fret), ''),
  mode: 'major',
});

/** The chord of a chord number with the bar at a fret, spelled in a key. */
export function chordInKey(by: Yardstick, chordNumber: number, fret: number, key: Key): Chord {
  const suffix = by.types[Math.floor(chordNumber / 12)] ?? '';
  const root = nameInKey(chromaOf(chordNumber + fret), key);
  return chordOf(root, typeWithSuffix(suffix)?.degrees ?? []);
}

/** A way to a chord as a voicing with the bar at a fret; other holds that sound the same come after its own. */
export function voicingOf(
  setup: Setup,
  { neck, strings, engaged }: Pick<Way, 'neck' | 'strings' | 'engaged'>,
  fret: number,
  chord: Chord,
): RankedVoicing {
  const pitchesOf = (choice: Choice): Midi[] => {
    const all = sounding(setup, neck, choice, fret);
    return strings.map((string) => all[string - 1] ?? 0);
  };
  const pitches = pitchesOf(engaged);
  const own = engagedCode(engaged);
  const others = [...combinations(setup)]
    .filter(
      (choice) =>
        engagedCode(choice) !== own &&
        pitchesOf(choice).every((pitch, index) => pitch === pitches[index]),
    )
    .sort((a, b) => feetPrice(setup, a) - feetPrice(setup, b));
  const pitchClasses = pcSetOf(pitches);
  const voicing = {
    neck,
    fret,
    slant: 0,
    strings,
    frets: strings.map(() => fret),
    pitches,
    pitchClasses,
    missing:
      allowedSets(chord, defaultMatch(chord)).find(({ set }) => set === pitchClasses)?.missing ??
      [],
    ways: [engaged, ...others],
  };
  return { voicing, effort: effortOfVoicing(compile(setup), voicing) };
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

const holdOf = ({ neck, held, pressed }: Use): string =>
  `${neck}|${engagedCode(held)}|${pressed.state}`;

/**
 * Fewer other controls first; then a move that works on more grips, for which keeping the root counts
 * as one grip more: it is the same chord in another colour, and what a player reaches for first.
 */
const inOrder =
  (by: Yardstick) =>
  (a: Move, b: Move): number =>
    a.held.length - b.held.length ||
    breadth(b) - breadth(a) ||
    // of two that are as broad the chord of more tones says more
    tonesOf(by, b.is) - tonesOf(by, a.is) ||
    a.effort - b.effort;
const tonesOf = (by: Yardstick, chordNumber: number): number =>
  by.tones[Math.floor(chordNumber / 12)] as number;
const breadth = ({ was, is, grips }: Move): number => grips.length + (was % 12 === is % 12 ? 1 : 0);

/** Makes one list of uses into moves, in the order in which they are worth learning. */
export const movesIn = (by: Yardstick, uses: readonly Use[]): Move[] =>
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
  ).sort(inOrder(by));

function positionsIn(setup: Setup, by: Yardstick, uses: readonly Use[]): Position[] {
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
const broadWorth = (by: Yardstick, { use, grips }: Position): number =>
  worthOf(by, use) * Math.sqrt(grips.length);

const isWith = (choice: Choice, id: string): boolean => choice.some((each) => each.id === id);

const everyGrip = (setup: Setup): number[][][] =>
  setup.necks.map(({ strings }) => gripsOf(strings.length, [3, 4]).map((grip) => stringsIn(grip)));

/** Chords that lie easier with the control than with anything else, by `AS_EASY` at least. */
function openedBy(
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

/** Puts an existing control in question. */
export function lessonOf(setup: Setup, id: string, by: Yardstick): Lesson {
  const pulls = setup.controls.find((each) => each.id === id)?.pulls ?? [];
  const ground = useGround(setup, id, by, 'anything');
  const near = usesWith(useGround(setup, id, by), pulls);
  const uses = usesWith(ground, pulls);
  const own = setup.necks.map((_, index) => {
    const moved = pulls.filter(({ neck }) => neck === index + 1).map(({ string }) => string);
    return moved.length === 0
      ? []
      : gripsOfControl(ground.home[index] ?? [], moved).filter(({ length }) => length <= 4);
  });
  const without = easiestWays(
    setup,
    [...combinations(setup)].filter((choice) => !isWith(choice, id)),
    everyGrip(setup),
    ground.clear,
    0,
  );
  const otherwise = (chordNumber: number): number =>
    without.get(chordNumber)?.[0]?.effort ?? Infinity;
  const owns = ({ chordNumber, use }: Position): number =>
    Number(otherwise(chordNumber) - use.effort >= AS_EASY);
  const positions = positionsIn(
    setup,
    by,
    near.filter(({ held }) => held.length > 0),
  ).sort((a, b) => owns(b) - owns(a) || broadWorth(by, b) - broadWorth(by, a));
  const met = new Set<string>();
  const shown = new Set<number>();
  return {
    id,
    setup,
    by,
    change: changeBetween(withoutControl(setup, id), setup, by),
    tonics: setup.necks.map((_, index) => tonicOf(ground, index + 1)),
    short: {
      moves: movesIn(
        by,
        near.filter(({ held }) => held.length === 0),
      ).slice(0, SHORT),
      positions: positions
        // a hold once, and for a chord that no hold before it gives
        .filter(({ use, chordNumber }) => {
          if (met.has(holdOf(use)) || shown.has(chordNumber)) return false;
          met.add(holdOf(use));
          shown.add(chordNumber);
          return true;
        })
        .slice(0, SHORT),
    },
    opens: openedBy(ground, own, otherwise),
    everyday: positionsIn(setup, by, uses),
    moves: movesIn(by, uses),
  };
}
