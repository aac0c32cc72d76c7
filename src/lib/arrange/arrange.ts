/** The whole trip from a progression and wishes to the best ways through it. */
import type { Chord } from '$lib/theory/chord';
import type { SpelledTone } from '$lib/theory/toneNames';
import type { Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import type { Voicing } from '$lib/search/voicing';
import type { Effort } from '$lib/effort/effort';
import type { Move, SoundingHold } from '$lib/effort/move';
import type { WayBalance } from '$lib/effort/weights';
import { compile, type Instrument } from '$lib/engine/instrument';
import { Cached } from '$lib/engine/memo';
import type { Apart } from './beginnings';
import type { WaysQuestion } from './bestWays';
import { findWays, type Clash } from './constrained';
import { inOrder, type InTime } from './inOrder';
import { moveCosts, roundedSeconds, type MoveCosts } from './moveCosts';
import { nearestFor, type Nearest } from './nearestSlot';
import { prepare, type Prepared } from './prepared';
import { pieceOf } from './pieceOf';
import { wayOf, type KnownSteps } from './readWay';
import { stepsOf, type Progression, type Step } from './progression';
import { necksOf, stageOf, type Stage } from './stage';
import type { Wishes } from './wishes';

/** An effort with what wishes about grips add to it. */
export interface StepEffort extends Effort {
  readonly wish: number;
}

export interface ArrangedStep {
  /** Its index among all steps of the progression, from 0. */
  readonly index: number;
  readonly step: Step;
  readonly chord: Chord;
  /** The chord's tones, and the melody's where it is none of them. */
  readonly tones: readonly SpelledTone[];
  readonly voicing: Voicing;
  /** The one of the voicing's ways that is meant. */
  readonly way: Choice;
  /** What stays engaged from the chord before although this one does not need it. */
  readonly stays: Choice;
  readonly hold: SoundingHold;
  readonly time: InTime;
  /** The bass after the slash is left to the band. */
  readonly bandsBass: boolean;
  /** What becomes engaged here counts, and not what stays. */
  readonly effort: StepEffort;
  /** From the chord before; at the first from the home fret, where one is given. */
  readonly move: Move;
}

export interface WayTotals {
  /** Of the efforts. */
  readonly held: number;
  /** Of the moves. */
  readonly moved: number;
  readonly bar: number;
  readonly picking: number;
  readonly feet: number;
  readonly voices: number;
  /** What rubs or lies too low. */
  readonly clarity: number;
  readonly wish: number;
  /** Millimetres that the bar goes in all. */
  readonly barMm: number;
  readonly semitones: number;
}

export interface ArrangedWay {
  /** The sum of all efforts and moves. */
  readonly total: number;
  /** By so much at most it may be dearer than one that was not found; left out where it is certain that none is. */
  readonly short?: number;
  readonly parts: WayTotals;
  readonly steps: readonly ArrangedStep[];
}

/** A chord that cannot be played as asked, and what is nearest to it. */
export interface Unplayable {
  readonly index: number;
  readonly step: Step;
  readonly chord: Chord;
  readonly nearest: readonly Nearest[];
}

export interface Arrangement {
  /** Best first. */
  readonly ways: readonly ArrangedWay[];
  readonly unplayable: readonly Unplayable[];
  /** Wishes for the whole piece that cannot be had; the ways are without them. */
  readonly clashes: readonly Clash[];
  readonly searched: {
    /** Candidates of all chords together. */
    readonly candidates: number;
    /** How many ways there are through them, as a power of ten. */
    readonly waysLog10: number;
  };
}

const COSTS = new Cached<MoveCosts>(4);

/** What moves cost on an instrument as a player weighs them; kept for the next question. */
export const costsOf = (instrument: Instrument, balance: WayBalance): MoveCosts =>
  instrument.once(COSTS, JSON.stringify(balance), () =>
    moveCosts(instrument.setup, balance, instrument.middle),
  );

/** Every chord with its candidates. */
export const prepareAll = (setup: Setup, progression: Progression, wishes: Wishes): Prepared[] =>
  stepsOf(progression).flatMap((step, index) =>
    step.chord === 'no chord' ? [] : [prepare(setup, wishes, step, index)],
  );

/** Some dozen different chords make a piece, as for their candidates. */
const STAGES = new Cached<Stage>(300);

/** The candidates of a chord, with what may stay engaged. */
export const stageFor = ({ layer, indexes, remember }: Prepared): Stage =>
  remember(STAGES, () => stageOf(layer, necksOf(indexes)));

/** By step of the progression: when it is. */
const timesOf = (progression: Progression): readonly InTime[] =>
  inOrder(pieceOf(progression), progression.bars.length).moments;

/** By chord but the last: seconds until the next one begins. */
const secondsBetween = (prepared: readonly Prepared[], times: readonly InTime[]): number[] =>
  prepared.slice(1).map(({ index }, before) => {
    const from = times[prepared[before]?.index ?? 0]?.seconds ?? 0;
    return roundedSeconds((times[index]?.seconds ?? 0) - from);
  });

/** A piece ready to be solved. */
export interface Ready {
  readonly setup: Setup;
  readonly wishes: Wishes;
  /** Every chord; those without candidates cannot be played. */
  readonly all: readonly Prepared[];
  readonly playable: readonly Prepared[];
  readonly question: Omit<WaysQuestion, 'most'>;
  /** By step of the progression. */
  readonly times: readonly InTime[];
}

/** By chord that can be played: the first of these that is the same chord as written. */
function playablePasses(
  playable: readonly Prepared[],
  { passes }: Wishes,
): readonly number[] | undefined {
  if (passes === undefined) return undefined;
  const first = new Map<number, number>();
  return playable.map(({ index }, at) => {
    const written = passes[index] ?? index;
    if (!first.has(written)) first.set(written, at);
    return first.get(written) ?? at;
  });
}

/** Everything that the search is asked with. */
export function readyFor(setup: Setup, progression: Progression, wishes: Wishes): Ready {
  const all = prepareAll(setup, progression, wishes);
  const playable = all.filter(({ layer }) => layer.count > 0);
  const times = timesOf(progression);
  return {
    setup,
    wishes,
    all,
    playable,
    times,
    question: {
      stages: playable.map(stageFor),
      costs: costsOf(compile(setup), wishes.balance),
      times: secondsBetween(playable, times),
      home: wishes.home,
      passes: playablePasses(playable, wishes),
    },
  };
}

/**
 * The best ways through; chords that cannot be played are passed over and told.
 *
 * @param apart what tells ways apart: `positions` gives as many that differ in more than their grips
 */
export function arrange(
  setup: Setup,
  progression: Progression,
  wishes: Wishes,
  most: number,
  apart: Apart = 'voicings',
): Arrangement {
  const ready = readyFor(setup, progression, wishes);
  const { all, playable } = ready;
  const layers = playable.map(({ layer }) => layer);
  const found = findWays({ ...ready.question, wishes, most, apart });
  const steps: KnownSteps = new Map();
  return {
    ways: found.ways.map((way) => wayOf(ready, way, steps)),
    unplayable: all
      .filter(({ layer }) => layer.count === 0)
      .map(({ index, step, chord }) => ({
        index,
        step,
        chord,
        nearest: nearestFor(setup, wishes, step, index),
      })),
    clashes: found.clashes,
    searched: {
      candidates: layers.reduce((sum, { count }) => sum + count, 0),
      waysLog10: layers.reduce((sum, { count }) => sum + Math.log10(count), 0),
    },
  };
}
