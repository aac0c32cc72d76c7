/** Whether a string sounds: its own partials, which no other string's lie on, decide. */
import type { Listened } from './grip';
import { sizeOfLine, type Spectrum } from './spectrum';
import { sizeOf, type Tone } from './tones';

/** What speaks for a string. */
export interface Evidence {
  /** Partials of its own that could be looked at. */
  readonly own: number;
  /** How many of them are low enough to be heard of every string that sounds. */
  readonly low: number;
  /** At least two of the low ones are odd, and none of these speaks: at most a string an octave above sounds. */
  readonly above: boolean;
  /** How many of all stand above noise and what leaks from others, as a part. */
  readonly speaking: number;
  /** How loud those are, as a mean square. */
  readonly power: number;
}

/** Partials that are asked: higher ones are faint. */
const ASKED = 8;
/** Those up to this say by their silence that a string does not sound: a soft string has none above. */
const LOW = 5;
/** Of the odd ones among them so many have to be its own for their silence to say something. */
const LEAST_ODD = 2;
/** A partial stands out where it is so many times as loud as noise and as what its fit leaves, … */
const ABOVE_NOISE = 4;
/** … and so loud against what lies beside it. */
const ABOVE_BESIDE = 0.4;
/** Farther off than this, in bins and in cents, it is something else. */
const OFF_BINS = 0.5;
const OFF_CENTS = 6;

/** Whether nothing else can be taken for a partial. */
const isOwn = (tone: Tone): boolean =>
  !tone.held && !tone.shared && (tone.alone || sizeOf(tone) > 2 * tone.beside);

/** What speaks for a string, against noise as loud as `noise` in one tone. */
export function evidenceOf({ tones }: Listened, seconds: number, noise: number): Evidence {
  let [own, low, speaking, power] = [0, 0, 0, 0];
  let [odd, oddSpeaking] = [0, 0];
  for (const [index, tone] of tones.slice(0, ASKED).entries()) {
    if (!isOwn(tone)) continue;
    own += 1;
    if (index < LOW) low += 1;
    const isOdd = index < LOW && index % 2 === 0;
    if (isOdd) odd += 1;
    const size = sizeOf(tone);
    const bins = Math.abs(tone.offHz) * seconds;
    const cents = (1731 * Math.abs(tone.offHz)) / tone.hz;
    if (size < ABOVE_NOISE * Math.max(tone.rest, noise)) continue;
    if (size < ABOVE_BESIDE * tone.beside) continue;
    if (bins > OFF_BINS && cents > OFF_CENTS) continue;
    speaking += 1;
    if (isOdd) oddSpeaking += 1;
    power += 2 * size * size;
  }
  const above = odd >= LEAST_ODD && oddSpeaking === 0;
  return { own, low, above, speaking: own === 0 ? 0 : speaking / own, power };
}

/** How loud noise is in one tone: by the middle of all lines, of which tones fill the fewer. */
export function noiseIn({ re, im }: Spectrum): number {
  const sizes = new Float64Array(re.length);
  for (let line = 0; line < sizes.length; line++) sizes[line] = sizeOfLine(re, im, line);
  return 2 * middleOf(sizes);
}

/** The middle of numbers, which are put into another order: Hoare's selection (1961), quicker than to sort them. */
function middleOf(values: Float64Array): number {
  const middle = values.length >> 1;
  let [from, to] = [0, values.length - 1];
  while (from < to) {
    const pivot = values[(from + to) >> 1] as number;
    let [low, high] = [from, to];
    while (low <= high) {
      while ((values[low] as number) < pivot) low++;
      while ((values[high] as number) > pivot) high--;
      if (low > high) break;
      [values[low], values[high]] = [values[high] as number, values[low] as number];
      low++;
      high--;
    }
    if (middle <= high) to = high;
    else if (middle >= low) from = low;
    else break;
  }
  return values[middle] ?? 0;
}

/** A string quieter than the loudest by more than this, in decibels, is taken for what rings along. */
const LEAST_DB = -28;
/** So soon after the stroke all strings that were struck are louder. */
const LEAST_DB_SOON = -25;
/** Shorter than this, in seconds, is soon. */
const SOON_S = 0.6;
/** So great a part of its own partials has to speak. */
const LEAST_SPEAKING = 0.3;
/** With fewer partials of its own, nothing is certain. */
export const LEAST_OWN = 2;

/** Whether it can be told that a string does not sound: from low partials of its own that are silent. */
export const canBeSilent = ({ low }: Evidence): boolean => low >= LEAST_OWN;

/** Whether it can be told at all, from partials of its own. */
export const isCertain = (evidence: Evidence): boolean =>
  canBeSilent(evidence) || (evidence.own >= LEAST_OWN && evidence.speaking >= LEAST_SPEAKING);

/** Whether a string with partials of its own sounds, beside a loudest one of power `most`. */
export function soundsBy(
  { above, speaking, power }: Evidence,
  most: number,
  seconds: number,
): boolean {
  const least = seconds < SOON_S ? LEAST_DB_SOON : LEAST_DB;
  return !above && speaking >= LEAST_SPEAKING && power > most * 10 ** (least / 10);
}
