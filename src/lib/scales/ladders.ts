/**
 * Ladders: a scale in thirds, sixths, tenths, octaves or triads, up and down the neck, with the least work that
 * there is by the costs of lines.
 */
import { chromaOf, type Midi } from '$lib/theory/pitch';
import { nextInScale, type Scale } from '$lib/theory/scales';
import { toneAt } from '$lib/theory/toneNames';
import { openMidi, type Setup } from '$lib/setup/setup';
import type { TuneStep } from '$lib/arrange/tune';
import { bestThrough, readySequence, soundsIn, type Field, type Sequence } from './sequence';

/** What stands on every rung. */
export const LADDER_INTERVALS = ['thirds', 'sixths', 'tenths', 'octaves', 'triads'] as const;
export type LadderInterval = (typeof LADDER_INTERVALS)[number];

/** Up the neck, down, or up and down again with the highest rung once. */
export const LADDER_WAYS = ['up', 'down', 'both'] as const;
export type LadderWay = (typeof LADDER_WAYS)[number];

/** Which tone of a triad is the lowest: 0 its root, 1 its third, 2 its fifth. */
export type Inversion = 0 | 1 | 2;
const INVERSIONS: readonly Inversion[] = [0, 1, 2];

/** What is asked. */
export interface LadderQuestion extends Field {
  readonly interval: LadderInterval;
  readonly way: LadderWay;
  /** Of triads; the one with most rungs, then with least work, where left out. */
  readonly inversion?: Inversion;
}

/** One rung. */
export interface Rung {
  /** The scale's degree of the upper note; of a triad that of its root. */
  readonly degree: string;
  /** By note, the lowest first. */
  readonly degrees: readonly string[];
  readonly step: TuneStep;
}

/** A whole ladder. */
export interface Ladder {
  readonly rungs: readonly Rung[];
  /** All efforts and moves. */
  readonly total: number;
  readonly inversion?: Inversion;
}

/** A rung before it is played. */
export interface Draft {
  /** The note that gives it its degree. */
  readonly of: Midi;
  /** Ascending. */
  readonly pitches: readonly Midi[];
}

/** Steps of a scale of seven notes between the two voices, and the semitones that such an interval has. */
const VOICES = {
  thirds: { steps: 2, semitones: [3, 4] },
  sixths: { steps: 5, semitones: [8, 9] },
  tenths: { steps: 9, semitones: [15, 16] },
  octaves: { steps: 7, semitones: [12] },
} as const;

/** A rung is played in the time of a second, in which no move of the bar is hurried. */
const EACH = { lasts: 1, tempo: 60 } as const;

/** A scale's note some steps above (below, if negative) one of its notes. */
function stepsFrom(scale: Scale, midi: Midi, steps: number): Midi {
  let at = midi;
  for (let each = 0; each < Math.abs(steps); each++)
    at = nextInScale(scale, at, steps > 0 ? 1 : -1);
  return at;
}

/**
 * The note below an upper one. A scale of seven notes is counted by its steps; in others it is the nearest
 * of its notes that makes such an interval, and none where there is none.
 */
function below(scale: Scale, upper: Midi, interval: keyof typeof VOICES): Midi | undefined {
  const { steps, semitones } = VOICES[interval];
  if (scale.tones.length === 7) return stepsFrom(scale, upper, -steps);
  return semitones
    .map((size) => upper - size)
    .find((lower) => (scale.pitchClasses & (1 << chromaOf(lower))) !== 0);
}

/** The rung at a note of the scale; `undefined` where the interval has none there. */
export function draftAt(
  scale: Scale,
  of: Midi,
  interval: LadderInterval,
  inversion: Inversion,
): Draft | undefined {
  if (interval !== 'triads') {
    const lower = below(scale, of, interval);
    return lower === undefined ? undefined : { of, pitches: [lower, of] };
  }
  const triad = [of, stepsFrom(scale, of, 2), stepsFrom(scale, of, 4)];
  const turned = [...triad.slice(inversion), ...triad.slice(0, inversion).map((low) => low + 12)];
  return { of, pitches: turned };
}

/** Why a scale has no such ladder; `undefined` where it has. */
export const refusedLadder = ({ tones }: Scale, interval: LadderInterval): string | undefined =>
  interval === 'triads' && tones.length !== 7 ? 'a scale of seven notes for triads' : undefined;

/** The lowest and the highest pitch that a neck can sound in a field, generously. */
export function compassOf(setup: Setup, { neck, frets }: Field): readonly [Midi, Midi] {
  const on = setup.necks[neck - 1];
  if (on === undefined) throw new Error(`neck ${neck} is not in the setup`);
  const open = openMidi(on);
  // no control moves a string by more than seven semitones, and a slant leads by two frets
  return [Math.min(...open) + frets[0] - 9, Math.max(...open) + frets[1] + 9];
}

/** Rungs that can be played, in unbroken parts of the scale. */
function partsOf(
  setup: Setup,
  scale: Scale,
  question: LadderQuestion,
  inversion: Inversion,
): Draft[][] {
  const { interval } = question;
  const [lowest, highest] = compassOf(setup, question);
  const parts: Draft[][] = [];
  let now: Draft[] | undefined;
  for (let of = nextInScale(scale, lowest - 1); of <= highest; of = nextInScale(scale, of)) {
    const draft = draftAt(scale, of, interval, inversion);
    // a scale of fewer or more than seven notes has no such interval at some of them: they are passed over
    if (draft === undefined) continue;
    const inMidi = draft.pitches.every((pitch) => pitch >= 0 && pitch <= 127);
    const found = inMidi && soundsIn(setup, question, draft.pitches).stage.layer.count > 0;
    if (!found) now = undefined;
    else if (now === undefined) parts.push((now = [draft]));
    else now.push(draft);
  }
  return parts;
}

/** The way through some rungs in the direction that is asked. */
function inDirection(drafts: readonly Draft[], way: LadderWay): readonly Draft[] {
  if (way === 'up') return drafts;
  const down = [...drafts].reverse();
  return way === 'down' ? down : [...drafts, ...down.slice(1)];
}

/** A ladder before it is solved. */
interface Drafted {
  readonly inversion: Inversion;
  readonly drafts: readonly Draft[];
}

/**
 * The rungs of one inversion: the longest unbroken part of the scale that can be played, the lower one of two
 * as long.
 */
function draftedIn(
  setup: Setup,
  scale: Scale,
  question: LadderQuestion,
  inversion: Inversion,
): Drafted {
  const parts = partsOf(setup, scale, question, inversion);
  const drafts = parts.reduce<Draft[]>(
    (best, part) => (part.length > best.length ? part : best),
    [],
  );
  return { inversion, drafts };
}

/** What is drafted, ready to be solved in the direction that is asked. */
function readyLadder(setup: Setup, scale: Scale, question: LadderQuestion, { drafts }: Drafted) {
  const rungs = inDirection(drafts, question.way);
  const sequence: Sequence = { sounds: rungs.map(({ pitches }) => pitches), ...EACH };
  const ready = readySequence(setup, scale, question, sequence);
  if (ready === undefined) throw new Error('a rung that was found cannot be played');
  return { rungs, ready };
}

/** The inversions that a question leaves open; one, which stands for none, where it is not of triads. */
export const inversionsOf = ({ interval, inversion }: LadderQuestion): readonly Inversion[] =>
  interval !== 'triads' ? [0] : inversion === undefined ? INVERSIONS : [inversion];

/** How many rungs the longest ladder has, up the neck. */
export const rungsIn = (setup: Setup, scale: Scale, question: LadderQuestion): number =>
  Math.max(
    ...inversionsOf(question).map(
      (inversion) => draftedIn(setup, scale, question, inversion).drafts.length,
    ),
  );

/** The best ladder; `undefined` where no two neighbouring rungs can be played. */
export function ladder(setup: Setup, scale: Scale, question: LadderQuestion): Ladder | undefined {
  const all = inversionsOf(question).map((each) => draftedIn(setup, scale, question, each));
  const most = Math.max(...all.map(({ drafts }) => drafts.length));
  if (most < 2) return undefined;
  // the shorter ones need no solving
  const longest = all
    .filter(({ drafts }) => drafts.length === most)
    .map((each) => {
      const { rungs, ready } = readyLadder(setup, scale, question, each);
      return { inversion: each.inversion, rungs, best: bestThrough(ready, scale) };
    });
  const best = longest.reduce((one, other) => (other.best.cost < one.best.cost ? other : one));
  const { total, steps } = best.best.way();
  const degreeOf = (midi: Midi): string => toneAt(scale.tones, midi)?.degree ?? '';
  return {
    total,
    rungs: steps.map((step, at): Rung => {
      const { of, pitches } = best.rungs[at] as Draft;
      return { degree: degreeOf(of), degrees: pitches.map(degreeOf), step };
    }),
    ...(question.interval === 'triads' ? { inversion: best.inversion } : {}),
  };
}
