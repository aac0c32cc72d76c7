/** The whole trip from a piece and its textures to the best ways of playing it, note by note. */
import type { SpelledTone } from '$lib/theory/toneNames';
import type { Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import type { Move, SoundingHold } from '$lib/effort/move';
import type { Reached, Wanted } from '$lib/effort/reaching';
import { compile } from '$lib/engine/instrument';
import { costsOf, type StepEffort } from './arrange';
import { bestWays, type FoundWay, type WaysQuestion } from './bestWays';
import { roundedSeconds } from './moveCosts';
import type { Joint } from './onward';
import { onsetsOf, type Onset } from './onsets';
import { harmonicIn } from './strike';
import { wishedAt } from './noteWishes';
import { onsetPasses } from './passes';
import { SAME_PLACE, type Piece } from './piece';
import { reachCosts } from './reachCosts';
import { inTurn, type Stage } from './stage';
import { tuneWays } from './readTune';
import type { Textures } from './texture';
import type { ToneStage } from './toneStage';
import { tonesAt, type FoundTones, type Lacking } from './tuneCandidates';
import type { Wishes } from './wishes';

/** One string of what sounds. */
export interface ReachedString {
  /** From 1. */
  readonly string: number;
  readonly pitch: number;
  readonly reached: Reached;
  /** It sounds the tune. */
  readonly melody: boolean;
}

export interface TuneStep {
  readonly onset: Onset;
  /** The strings of the note or chord, from 1, ascending; what only rings on is not among them. */
  readonly hold: SoundingHold;
  /** What of the engaged controls it needs. */
  readonly way: Choice;
  /** What stays engaged from before although this does not need it. */
  readonly stays: Choice;
  /** All that sounds: how each string is reached, and those of the chord before that ring on. */
  readonly strings: readonly ReachedString[];
  /** The chord's tones, the tune's and the second voice's, as they are written. */
  readonly tones: readonly SpelledTone[];
  readonly effort: StepEffort;
  readonly move: Move;
}

export interface TuneWay {
  /** The sum of all efforts and moves. */
  readonly total: number;
  readonly steps: readonly TuneStep[];
}

/** What is less than was asked for. */
export interface Lack {
  readonly onset: Onset;
  readonly lacks: Lacking;
}

export interface TuneArrangement {
  readonly ways: readonly TuneWay[];
  readonly lacks: readonly Lack[];
  readonly searched: { readonly candidates: number; readonly waysLog10: number };
}

/** A moment with its candidates. */
interface Ready {
  readonly onset: Onset;
  readonly tones: ToneStage;
  readonly wanted: Wanted;
}

/** What a moment wants after the one before it that is played. */
function wantedAfter(before: Onset | undefined, onset: Onset): Wanted {
  const gap = before === undefined ? Infinity : onset.at - (before.at + before.lasts);
  const seconds = before === undefined ? 1 : onset.seconds - before.seconds;
  return {
    joined: Math.abs(gap) < SAME_PLACE * 10,
    melody: onset.melody === undefined ? 'rests' : onset.melodyLasts ? 'lasts' : 'begins',
    between: onset.between,
    seconds: roundedSeconds(seconds),
  };
}

const isSameWish = (a: Wanted, b: Wanted): boolean =>
  a.joined === b.joined &&
  a.melody === b.melody &&
  a.between === b.between &&
  a.seconds === b.seconds;

/** A tune ready to be solved. */
export interface ReadyTune {
  readonly setup: Setup;
  readonly wishes: Wishes;
  readonly moments: readonly Ready[];
  readonly lacks: readonly Lack[];
  readonly question: Omit<WaysQuestion, 'most'>;
}

/** Everything that the search is asked with. */
export const readyTune = (
  setup: Setup,
  piece: Piece,
  textures: Textures,
  wishes: Wishes,
): ReadyTune => readyAsStruck(setup, piece, onsetsOf(piece, textures), wishes);

/** The same with harmonics where they are wished. */
function readyAsStruck(
  setup: Setup,
  piece: Piece,
  onsets: readonly Onset[],
  wishes: Wishes,
): ReadyTune {
  const harmonic = harmonicIn(piece, wishes.strikes);
  const { moments, lacks } = momentsOf(onsets, (onset) =>
    tonesAt(setup, wishes, onset, wishedAt(wishes.notes, onset), harmonic[onset.measure] ?? 0),
  );
  const passes =
    wishes.freePasses === true ? undefined : onsetPasses(moments.map(({ onset }) => onset));
  return readyWith(setup, wishes, moments, lacks, passes);
}

/** The same for moments that are no piece's, each with the candidates that it is given. */
export function readyOnsets(
  setup: Setup,
  wishes: Wishes,
  onsets: readonly Onset[],
  tonesFor: (onset: Onset) => FoundTones,
): ReadyTune {
  const { moments, lacks } = momentsOf(onsets, tonesFor);
  return readyWith(setup, wishes, moments, lacks);
}

/** The moments that can be played, each with its candidates; and what is less than was asked for. */
function momentsOf(
  onsets: readonly Onset[],
  tonesFor: (onset: Onset) => FoundTones,
): { readonly moments: readonly Ready[]; readonly lacks: readonly Lack[] } {
  const lacks: Lack[] = [];
  const moments: Ready[] = [];
  for (const onset of onsets) {
    const { tones: found, lacks: less } = tonesFor(onset);
    if (less !== undefined) lacks.push({ onset, lacks: less });
    if (found === undefined) continue;
    moments.push({ onset, tones: found, wanted: wantedAfter(moments.at(-1)?.onset, onset) });
  }
  return { moments, lacks };
}

/**
 * Moments with their candidates, as the search is asked with them.
 *
 * @param passes by moment, as of `WaysQuestion`; each moment its own where left out
 */
function readyWith(
  setup: Setup,
  wishes: Wishes,
  moments: readonly Ready[],
  lacks: readonly Lack[],
  passes?: readonly number[],
): ReadyTune {
  const after = moments.slice(1);
  // a piece comes back to what it had, and what has been worked out of it holds again
  const joints = new Map<ToneStage, Map<ToneStage, [Wanted, Joint][]>>();
  const jointOf = (from: ToneStage, to: ToneStage, wanted: Wanted): Joint => {
    const onward = joints.get(from) ?? new Map<ToneStage, [Wanted, Joint][]>();
    joints.set(from, onward);
    const there = onward.get(to) ?? [];
    onward.set(to, there);
    const known = there.find(([each]) => isSameWish(each, wanted));
    if (known !== undefined) return known[1];
    const made = reachCosts(from, to, wanted, wishes.balance);
    there.push([wanted, made]);
    return made;
  };
  const all = moments.map((each) => each.tones.stage);
  // What is alike in all passes may have something else staying in each of them. Where moments come back often, what was
  // worked out of each holds again, which is worth more than laying out less of it.
  const comesBack = 2 * new Set(all).size <= all.length;
  const stages = passes === undefined && !comesBack ? inTurn(all) : all;
  return {
    setup,
    wishes,
    moments: moments.map((each, at) => ({
      ...each,
      tones: { ...each.tones, stage: stages[at] as Stage },
    })),
    lacks,
    question: {
      stages,
      costs: costsOf(compile(setup), wishes.balance),
      times: after.map(({ wanted }) => wanted.seconds),
      joints: after.map(({ tones: to, wanted }, before) =>
        jointOf((moments[before] as Ready).tones, to, wanted),
      ),
      home: wishes.home,
      ...(passes === undefined ? {} : { passes }),
    },
  };
}

/** The best way through some moments: what it costs in thousandths, and all of it where that is asked for. */
export interface BestThrough {
  readonly cost: number;
  readonly way: () => TuneWay;
}

/**
 * The best way through moments whose candidates have been chosen already; none where one of them has no
 * candidate. `onset` says when each is and what is sung there, in order of time.
 *
 * @param atMost in thousandths: none is looked for that costs more
 */
export function bestThrough(
  setup: Setup,
  wishes: Wishes,
  chosen: readonly Pick<Ready, 'onset' | 'tones'>[],
  atMost?: number,
): BestThrough | undefined {
  if (chosen.some(({ tones: { stage } }) => stage.layer.count === 0)) return undefined;
  const moments = chosen.map((each, at) => ({
    ...each,
    wanted: wantedAfter(chosen[at - 1]?.onset, each.onset),
  }));
  const ready = readyWith(setup, wishes, moments, []);
  const [best] = bestWays({ ...ready.question, most: 1, atMost });
  return best && { cost: best.cost, way: () => tuneWays(ready, [best])[0] as TuneWay };
}

/** The best ways of playing a piece, least first; what cannot be played is passed over and told. */
export function arrangeTune(
  setup: Setup,
  piece: Piece,
  textures: Textures,
  wishes: Wishes,
  most: number,
): TuneArrangement {
  const ready = readyTune(setup, piece, textures, wishes);
  return arrangementOf(ready, bestWays({ ...ready.question, most }));
}

/** Ways that were found through what is ready, as a person reads them. */
export function arrangementOf(ready: ReadyTune, found: readonly FoundWay[]): TuneArrangement {
  const counts = ready.question.stages.map(({ layer }) => layer.count);
  return {
    ways: tuneWays(ready, found),
    lacks: ready.lacks,
    searched: {
      candidates: counts.reduce((sum, count) => sum + count, 0),
      waysLog10: counts.reduce((sum, count) => sum + Math.log10(count), 0),
    },
  };
}
