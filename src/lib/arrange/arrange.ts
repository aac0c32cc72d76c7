/** The whole trip from a progression and wishes to the best ways through it. */
import type { Chord } from '$lib/theory/chord';
import type { SpelledTone } from '$lib/theory/toneNames';
import type { Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { voicingAt, type Voicing } from '$lib/search/voicing';
import { barTerms } from '$lib/effort/bar';
import { PER_UNIT, effortOf, type Effort } from '$lib/effort/effort';
import { feetTerms } from '$lib/effort/feet';
import { moveBetween, moveFromHome, moveOf, type Move, type SoundingHold } from '$lib/effort/move';
import { pickingTerms } from '$lib/effort/picking';
import type { WayBalance } from '$lib/effort/weights';
import { compile, type Instrument } from '$lib/engine/instrument';
import { Cached } from '$lib/engine/memo';
import type { FoundWay } from './bestWays';
import { findWays, type Clash } from './constrained';
import type { Layer } from '$lib/engine/layer';
import { moveCosts, type MoveCosts } from './moveCosts';
import { nearestFor, type Nearest } from './nearestSlot';
import { prepare, type Prepared } from './prepared';
import { stepsOf, type Progression, type Step } from './progression';
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
  readonly hold: SoundingHold;
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
  readonly wish: number;
  /** Millimetres that the bar goes in all. */
  readonly barMm: number;
  readonly semitones: number;
}

export interface ArrangedWay {
  /** The sum of all efforts and moves. */
  readonly total: number;
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

const costsOf = (instrument: Instrument, balance: WayBalance): MoveCosts =>
  instrument.once(COSTS, JSON.stringify(balance), () =>
    moveCosts(instrument.setup, balance, instrument.reachable.engaged.length),
  );

/** Every chord with its candidates. */
export const prepareAll = (setup: Setup, progression: Progression, wishes: Wishes): Prepared[] =>
  stepsOf(progression).flatMap((step, index) =>
    step.chord === 'no chord' ? [] : [prepare(setup, wishes, step, index)],
  );

/** The best ways through; chords that cannot be played are passed over and told. */
export function arrange(
  setup: Setup,
  progression: Progression,
  wishes: Wishes,
  most: number,
): Arrangement {
  const all = prepareAll(setup, progression, wishes);
  const playable = all.filter(({ layer }) => layer.count > 0);
  const layers = playable.map(({ layer }) => layer);
  const found = findWays({ layers, costs: costsOf(compile(setup), wishes.balance), wishes, most });
  return {
    ways: found.ways.map((way) => wayOf(setup, wishes, playable, way)),
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

/** A candidate as a person reads it. */
function stepAt(
  setup: Setup,
  wishes: Wishes,
  { index, step, chord, tones, sets, indexes, layer }: Prepared,
  candidate: number,
): Omit<ArrangedStep, 'move'> {
  const { neck, fret, slant, engaged } = positionAt(layer, candidate);
  const searched = indexes.get(neck);
  const on = setup.necks[neck - 1];
  if (searched === undefined || on === undefined) throw new Error(`neck ${neck} was not searched`);
  const voicing = voicingAt(searched, layer.voicing[candidate] as number, fret, sets);
  const effort = effortOf(
    [
      ...feetTerms(setup, engaged),
      ...pickingTerms(on, voicing.strings),
      ...barTerms(setup, fret, undefined, slant),
    ],
    wishes.balance,
  );
  const wish = layer.wish[candidate] as number;
  return {
    index,
    step,
    chord,
    tones,
    voicing,
    way: engaged,
    hold: { neck, fret, slant, strings: voicing.strings, pitches: voicing.pitches, engaged },
    effort: { ...effort, wish: wish / PER_UNIT, total: add(effort.total, wish / PER_UNIT) },
  };
}

function positionAt(layer: Layer, candidate: number): Layer['positions'][number] {
  const position = layer.positions[layer.position[candidate] as number];
  if (position === undefined) throw new Error(`candidate ${candidate} of ${layer.count}`);
  return position;
}

/** Sums of thousandths stay thousandths. */
const add = (...values: readonly number[]): number =>
  values.reduce((sum, value) => sum + Math.round(value * PER_UNIT), 0) / PER_UNIT;

const NO_MOVE = {
  barMm: 0,
  semitones: 0,
  changes: { pressed: [], letGo: [], shifted: [] },
  held: [],
};

function wayOf(
  setup: Setup,
  wishes: Wishes,
  prepared: readonly Prepared[],
  { candidates, cost }: FoundWay,
): ArrangedWay {
  const { balance, home } = wishes;
  let before: SoundingHold | undefined;
  const steps = prepared.map((each, layer): ArrangedStep => {
    const step = stepAt(setup, wishes, each, candidates[layer] as number);
    const move =
      before !== undefined
        ? moveBetween(setup, before, step.hold, balance)
        : home !== undefined
          ? moveFromHome(setup, home, step.hold, balance)
          : moveOf([], balance, NO_MOVE);
    before = step.hold;
    return { ...step, move };
  });
  const sum = (value: (step: ArrangedStep) => number): number => add(...steps.map(value));
  return {
    total: cost / PER_UNIT,
    parts: {
      held: sum(({ effort }) => effort.total),
      moved: sum(({ move }) => move.total),
      bar: sum(({ effort, move }) => effort.bar + move.bar),
      picking: sum(({ effort, move }) => effort.picking + move.picking),
      feet: sum(({ effort, move }) => effort.feet + move.feet),
      voices: sum(({ move }) => move.voices),
      wish: sum(({ effort }) => effort.wish),
      barMm: steps.reduce((mm, { move }) => mm + move.barMm, 0),
      semitones: steps.reduce((all, { move }) => all + move.semitones, 0),
    },
    steps,
  };
}
