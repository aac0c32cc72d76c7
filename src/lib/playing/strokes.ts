/**
 * Which strings of a chord are picked, which ring on from the chord before, and which are picked again
 * late, so that the move into the next chord is heard. Pure.
 *
 * A string that two neighbouring chords share goes along with the bar and the controls while it sounds.
 * It is picked anew where the bar goes so far that it would howl, where nothing about the chord has changed
 * (a chord that is written again is to be heard again), where a string that is picked beside it would
 * drown it, and where it has become weak: where half a second into the chord it would be 8 dB softer than
 * the open pedal can make good. Where a weak string is about to bend or to slide, the weak ones are picked
 * again together on the last beat before, and then move; where the beat is slow, on the last half or quarter
 * of it, so that no bend is lost for want of time.
 */
import type { ArrangedStep } from '$lib/arrange/arrange';
import { DEFAULT_METRE, barSeconds, type Progression } from '$lib/arrange/progression';
import { fallOf } from '$lib/strings/sustain';
import type { Setup } from '$lib/setup/setup';
import { fallenDb } from './fading';
import { PEDAL_RANGE_DB } from './pedal';

/** What becomes of the strings of one chord; the rest of them are picked where it begins. */
export interface Strokes {
  /** They ring on from the chord before. */
  readonly held: readonly number[];
  /** They are picked again on the chord's last beat, before it moves into the next chord. */
  readonly again: readonly number[];
}

/** Frets beyond which the strings are blocked while the bar is led. */
const FARTHEST_SLIDE = 7;
/** Seconds into a chord for which a string must be strong enough. */
const SPEAKS = 0.5;
/** Decibels that a string may have fallen by then. */
const WEAK_DB = PEDAL_RANGE_DB + 8;
/** Decibels beyond which a string is drowned by one that is picked beside it. */
const DROWNED_DB = 18;

/** Seconds before a change within which a string is picked again. */
const LATE = 1.5;

/** How long before a change strings are picked again: a beat of so many seconds, or a part of a slow one. */
export function lateSeconds(beat: number): number {
  let late = beat;
  while (late > LATE) late /= 2;
  return late;
}

const NEAR = 1e-9;
const isWhole = (number: number): boolean => Math.abs(number - Math.round(number)) < NEAR;

/** Strings that may ring on from one chord into the next, as far as hands and feet go. */
function mayRing(before: ArrangedStep | undefined, step: ArrangedStep): readonly number[] {
  if (before === undefined || before.hold.neck !== step.hold.neck) return [];
  const follows = Math.abs(before.step.start + before.step.length - step.step.start) < NEAR;
  const same = step.move.total === 0 && before.hold.pitches.join() === step.hold.pitches.join();
  const near = Math.abs(before.hold.fret - step.hold.fret) <= FARTHEST_SLIDE;
  return follows && near && !same ? step.move.held : [];
}

const pitchOn = ({ hold }: ArrangedStep, string: number): number =>
  hold.pitches[hold.strings.indexOf(string)] ?? NaN;

/**
 * By step of the way, played at a part of its tempo (1 as it is written): slower, strings are weak sooner
 * and are picked more often.
 */
export function strokesOf(
  setup: Setup,
  progression: Progression,
  steps: readonly ArrangedStep[],
  speed = 1,
): readonly Strokes[] {
  const { beats } = progression.metre ?? DEFAULT_METRE;
  const bar = barSeconds(progression) / speed;
  const beat = bar / beats;
  const lastPart = lateSeconds(beat);
  /** The share of its 60 dB that a string falls in a time under a chord. */
  const falls = (step: ArrangedStep, string: number, seconds: number): number =>
    seconds / fallOf(setup, step.hold.neck, string, pitchOn(step, string));
  /** There is a beat left behind the one on which a chord begins. */
  const hasLastBeat = ({ step: { start, length } }: ArrangedStep): boolean =>
    length * bar > 2 * lastPart - NEAR &&
    (lastPart < beat || (isWhole(start * beats) && isWhole(length * beats)));

  /** By string: its share at the beginning of the chord. */
  let shares = new Map<number, number>();
  const strokes: { held: number[]; again: number[] }[] = [];
  steps.forEach((step, at) => {
    const before = steps[at - 1];
    const own = { held: [] as number[], again: [] as number[] };
    strokes.push(own);
    const now = new Map<number, number>();
    const late = new Map<number, number>();
    if (before !== undefined)
      for (const string of mayRing(before, step)) {
        const lasted = before.step.length * bar;
        const share = (shares.get(string) ?? 0) + falls(before, string, lasted);
        const anew = falls(before, string, lastPart);
        const weak = (from: number): boolean =>
          fallenDb(from + falls(step, string, SPEAKS)) > WEAK_DB;
        if (!weak(share)) now.set(string, share);
        else if (hasLastBeat(before) && !weak(anew)) late.set(string, anew);
      }
    const moves = (string: number): boolean =>
      before !== undefined && pitchOn(before, string) !== pitchOn(step, string);
    if (![...late.keys()].some(moves)) late.clear();
    for (const [string, share] of late) now.set(string, share);
    const picked = step.hold.strings.some((string) => !now.has(string));
    for (const [string, share] of now)
      if (picked && fallenDb(share) > DROWNED_DB) now.delete(string);
    own.held = step.hold.strings.filter((string) => now.has(string));
    strokes.at(-2)?.again.push(...own.held.filter((string) => late.has(string)));
    shares = now;
  });
  return strokes;
}
