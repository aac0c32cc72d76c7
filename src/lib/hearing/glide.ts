/**
 * How a string's pitch moves in the short while that it is listened to at first. A string that was picked is
 * sharp, for its own swing stretches it, and falls as it calms down; a bar may still slide. What is told is where
 * the pitch has come to by then, not its mean: by nothing but what is measured in that while.
 */
import type { Listened } from './grip';
import type { Spectrum } from './spectrum';
import { curveOf, sizeOf, withoutTones, type Tone } from './tones';

/** How one partial's pitch moves. */
export interface PartialGlide {
  /** 1 is the lowest. */
  readonly number: number;
  /** Cents from one end of the stretch to the other, and how unsure that is. */
  readonly cents: number;
  readonly unsure: number;
}

/** How a string's pitch moves: partial by partial, and as a whole in cents from end to end. */
export interface Glide {
  readonly partials: readonly PartialGlide[];
  readonly cents: number;
}

/** Partials that are followed. */
const FOLLOWED = 8;
/** Another tone nearer than so many bins hides how a partial moves, … */
const APART_BINS = 4;
/** … if it is louder than this against it. */
const APART_SIZE = 0.03;
/** A partial stands out where it is so many times as loud as what its fit leaves. */
const ABOVE_REST = 6;
/** Farther off where it was looked for, in bins, it is not well known. */
const OFF_BINS = 0.5;
/** What a neighbour's loudness leaves in a curve, in radians. */
const LEAK = 4;

/** Partials of one string glide apart by so many cents a second: each beats with itself. */
const APART = 4;
/** A partial's glide may be off the others' by this, in cents a second, and say nothing new of the string's. */
const MOST_APART = 30;
/** So fast do strings glide that were picked, in cents a second. */
const USUAL = 12;
/** Seen from the middle, what is told lies so great a part of the stretch later: shortly before its end. */
const LATER = 0.4;
/** Nothing is moved farther than this, in cents. */
const MOST_MOVED = 5;

function partialsOf(
  spectrum: Spectrum,
  rest: Spectrum,
  { tones }: Listened,
  all: readonly Tone[],
): PartialGlide[] {
  const { seconds } = spectrum;
  return tones.slice(0, FOLLOWED).flatMap((tone, index): PartialGlide[] => {
    if (tone.held || sizeOf(tone) < ABOVE_REST * tone.rest) return [];
    if (Math.abs(tone.offHz) * seconds > OFF_BINS) return [];
    const near = all.some(
      (other) =>
        other !== tone &&
        Math.abs(other.hz - tone.hz) * seconds < APART_BINS &&
        sizeOf(other) > APART_SIZE * sizeOf(tone),
    );
    if (near) return [];
    const { curve, unsure } = curveOf(rest, tone);
    // a curve of so many radians over the stretch is a change of pitch from end to end
    const cents = 1731 / (2 * Math.PI * seconds * tone.hz);
    const leak = (LEAK * tone.beside) / sizeOf(tone);
    return Number.isFinite(unsure)
      ? [{ number: index + 1, cents: curve * cents, unsure: Math.hypot(unsure, leak) * cents }]
      : [];
  });
}

/** The glide that the partials have together: their middle, the less of it the farther they lie apart. */
function together(partials: readonly PartialGlide[], seconds: number): number {
  // one alone may beat
  if (partials.length < 2) return 0;
  const weighed = partials
    .map(({ cents, unsure }) => ({ cents, weight: 1 / Math.hypot(unsure, APART * seconds) }))
    .sort((a, b) => a.cents - b.cents);
  const all = weighed.reduce((sum, { weight }) => sum + weight, 0);
  let passed = 0;
  const middle = weighed.find(({ weight }) => (passed += weight) >= all / 2)?.cents ?? 0;
  const most = MOST_APART * seconds;
  const square = weighed.reduce(
    (sum, { cents, weight }) => sum + weight * Math.min(most, Math.abs(cents - middle)) ** 2,
    0,
  );
  const spread = square / all / (partials.length - 1);
  const usual = (USUAL * seconds) ** 2;
  return (middle * usual) / (usual + spread);
}

/** How each string glides that was measured in a stretch. */
export function glidesOf(spectrum: Spectrum, strings: readonly Listened[]): Glide[] {
  const all = strings.flatMap(({ tones }) => tones);
  const rest = withoutTones(spectrum, all);
  return strings.map((string): Glide => {
    const partials = partialsOf(spectrum, rest, string, all);
    return { partials, cents: together(partials, spectrum.seconds) };
  });
}

/** From the mean of the stretch to where the pitch is shortly before its end, in cents. */
export const movedBy = ({ cents }: Glide): number =>
  Math.max(-MOST_MOVED, Math.min(MOST_MOVED, LATER * cents));

/** So much more unsure does it make a partial's pitch that it glides otherwise than its string … */
const STRANGE = 0.6;
/** … by more than so many cents a second. */
const STRANGE_FROM = 10;

/** What its glide adds to how unsure a partial's pitch is, in cents; nothing where it was not followed. */
export function strangeness(
  { partials, cents }: Glide,
  number: number,
  seconds: number,
): number | undefined {
  const found = partials.find((each) => each.number === number);
  if (found === undefined) return undefined;
  return STRANGE * Math.max(0, Math.abs(found.cents - cents) - STRANGE_FROM * seconds);
}
