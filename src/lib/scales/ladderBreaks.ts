/** Where a ladder breaks off before it has gone through an octave, and what near it goes on. */
import type { Midi } from '$lib/theory/pitch';
import { nextInScale, type Scale } from '$lib/theory/scales';
import { toneAt } from '$lib/theory/toneNames';
import type { Setup } from '$lib/setup/setup';
import { stringsIn, type Grip } from '$lib/search/grip';
import {
  compassOf,
  draftAt,
  inversionsOf,
  rungsIn,
  type Inversion,
  type Ladder,
  type LadderQuestion,
} from './ladders';
import { soundsIn } from './sequence';

/** A rung that nothing there sounds. */
export interface MissingRung {
  /** As of a rung. */
  readonly degree: string;
  /** Ascending. */
  readonly pitches: readonly Midi[];
}

/** What has more rungs: other strings (`any` of them), the bar slanted, the whole neck. */
export interface LadderOffer {
  readonly strings?: readonly number[] | 'any';
  readonly slants?: true;
  readonly frets?: 'all';
  /** Up the neck. */
  readonly rungs: number;
}

export interface LadderBreak {
  /** Up the neck; 0 where no two are neighbours. */
  readonly rungs: number;
  /** The next rung up and the next down, where the neck is not at its end. */
  readonly above?: MissingRung;
  readonly below?: MissingRung;
  /** The nearest first. */
  readonly offers: readonly LadderOffer[];
}

/** Sets of strings that are told. */
const OTHER_STRINGS = 2;

/** The note that gives a rung its degree. */
function rootOf(pitches: readonly Midi[], { inversion }: Ladder): Midi {
  if (inversion === undefined) return pitches.at(-1) ?? 0;
  return inversion === 0 ? (pitches[0] ?? 0) : (pitches[3 - inversion] ?? 0) - 12;
}

/** The rung that would follow in a direction; none where the neck sounds no such notes at all. */
function missingAt(
  setup: Setup,
  scale: Scale,
  question: LadderQuestion,
  from: Midi,
  way: 1 | -1,
  inversion: Inversion,
): MissingRung | undefined {
  const [lowest, highest] = compassOf(setup, question);
  for (
    let of = nextInScale(scale, from, way);
    of >= lowest && of <= highest;
    of = nextInScale(scale, of, way)
  ) {
    const draft = draftAt(scale, of, question.interval, inversion);
    if (draft !== undefined)
      return { degree: toneAt(scale.tones, of)?.degree ?? '', pitches: draft.pitches };
  }
  return undefined;
}

/** By grip: the most neighbouring rungs that it has. */
function rungsByGrip(setup: Setup, scale: Scale, question: LadderQuestion): Map<Grip, number> {
  const { strings: _strings, ...free } = question;
  const most = new Map<Grip, number>();
  const [lowest, highest] = compassOf(setup, question);
  for (const inversion of inversionsOf(question)) {
    let before = new Map<Grip, number>();
    for (let of = nextInScale(scale, lowest - 1); of <= highest; of = nextInScale(scale, of)) {
      const draft = draftAt(scale, of, question.interval, inversion);
      if (draft === undefined) continue;
      const now = new Map<Grip, number>();
      if (draft.pitches.every((pitch) => pitch >= 0 && pitch <= 127))
        for (const grip of soundsIn(setup, free, draft.pitches).stage.layer.grip)
          if (!now.has(grip)) now.set(grip, (before.get(grip) ?? 0) + 1);
      for (const [grip, many] of now) most.set(grip, Math.max(many, most.get(grip) ?? 0));
      before = now;
    }
  }
  return most;
}

/** How far strings lie from those that were asked. */
const distance = (strings: readonly number[], asked: readonly number[]): number =>
  strings.reduce(
    (sum, string, at) => sum + Math.abs(string - (asked[Math.min(at, asked.length - 1)] ?? 0)),
    0,
  );

function otherStrings(
  setup: Setup,
  scale: Scale,
  question: LadderQuestion,
  asked: readonly number[],
  rungs: number,
): LadderOffer[] {
  const whole = scale.tones.length + 1;
  return [...rungsByGrip(setup, scale, question)]
    .filter(([, many]) => many > Math.max(1, rungs))
    .map(([grip, many]) => ({ strings: stringsIn(grip), rungs: many }))
    .sort(
      (a, b) =>
        Number(b.rungs >= whole) - Number(a.rungs >= whole) ||
        distance(a.strings, asked) - distance(b.strings, asked) ||
        b.rungs - a.rungs,
    )
    .slice(0, OTHER_STRINGS);
}

/**
 * Where a ladder breaks off, and what near it has more rungs; `undefined` where it goes through an octave.
 *
 * @param found the ladder, or none where no two neighbouring rungs can be played
 */
export function ladderBreak(
  setup: Setup,
  scale: Scale,
  question: LadderQuestion,
  found: Ladder | undefined,
): LadderBreak | undefined {
  const all = (found?.rungs ?? []).map(({ step }) => [...step.hold.pitches].sort((a, b) => a - b));
  const roots = found === undefined ? [] : all.map((pitches) => rootOf(pitches, found));
  const rungs = new Set(roots).size;
  if (rungs > scale.tones.length) return undefined;
  const missing = (from: Midi, way: 1 | -1): MissingRung | undefined =>
    missingAt(setup, scale, question, from, way, found?.inversion ?? 0);
  const above = rungs === 0 ? undefined : missing(Math.max(...roots), 1);
  const below = rungs === 0 ? undefined : missing(Math.min(...roots), -1);

  const offers: LadderOffer[] = [];
  const offer = (change: Partial<LadderQuestion>, told: Omit<LadderOffer, 'rungs'>): void => {
    const many = rungsIn(setup, scale, { ...question, ...change });
    if (many > Math.max(1, rungs)) offers.push({ ...told, rungs: many });
  };
  const { strings, frets, slants } = question;
  if (!slants) offer({ slants: true }, { slants: true });
  if (strings !== undefined) {
    offers.push(...otherStrings(setup, scale, question, strings, rungs));
    const { strings: _strings, ...free } = question;
    const many = rungsIn(setup, scale, free);
    if (many > Math.max(1, rungs)) offers.push({ strings: 'any', rungs: many });
  }
  if (frets[0] > 0 || frets[1] < setup.frets) offer({ frets: [0, setup.frets] }, { frets: 'all' });
  return {
    rungs,
    ...(above === undefined ? {} : { above }),
    ...(below === undefined ? {} : { below }),
    offers,
  };
}
