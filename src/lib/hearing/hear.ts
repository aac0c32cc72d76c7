/**
 * What is heard of a grip. Pure: samples and the pitches that are expected in, what sounds and how far it is
 * off out.
 */
import { addForeign, type Around } from './foreign';
import { glidesOf, type Glide } from './glide';
import { HIGHEST_HZ, heardOf, measureStrings, powerOf, startStrings, type Listened } from './grip';
import {
  LEAST_OWN,
  canBeSilent,
  evidenceOf,
  isCertain,
  noiseIn,
  soundsBy,
  type Evidence,
} from './presence';
import { spectrumOf, type Spectrum } from './spectrum';
import { withoutTones } from './tones';

/** What is heard of one expected string. */
export interface HeardString {
  /** Whether it sounds. */
  readonly sounds: boolean;
  /** Whether that, and its pitch, can be told from the sound: not where all its partials are another's. */
  readonly certain: boolean;
  /** How far it is from its expected pitch; nothing where it does not sound. */
  readonly cents?: number;
  /** How unsure `cents` is, in cents. */
  readonly unsure?: number;
  /** Root mean square of it, in decibels of full scale; nothing where it does not sound. */
  readonly levelDb?: number;
}

/** A note that was not expected. */
export interface HeardForeign {
  readonly midi: number;
  /** From that note in equal temperament. */
  readonly cents: number;
  readonly levelDb: number;
}

/** What is heard of a grip. */
export interface HeardGrip {
  /** In the order in which they were expected. */
  readonly strings: readonly HeardString[];
  readonly extra: readonly HeardForeign[];
}

/** The least that says anything, in seconds. */
export const SHORTEST_S = 0.1;
/** More than this says no more, in seconds. */
const LONGEST_S = 1.2;
/** Quieter than this is silence: −66 dB of full scale, as a mean square. */
const SILENCE = 2.5e-7;
/** A string that has no partials of its own is guessed to sound where they are so loud, in decibels. */
const SHARED_DB = -20;

const db = (power: number): number => 10 * Math.log10(power);

/** Takes out the strings of which nothing is heard, and measures the others anew, until none goes. */
function settle(spectrum: Spectrum, strings: readonly Listened[]): Evidence[] {
  const { seconds } = spectrum;
  for (;;) {
    const noise = noiseIn(
      withoutTones(
        spectrum,
        strings.flatMap(({ tones }) => tones),
      ),
    );
    const evidence = strings.map((each) => evidenceOf(each, seconds, noise));
    // the band may be louder than the strings, and is no measure of them
    const most = Math.max(
      ...strings.map((each, at) =>
        each.there && each.band === undefined ? (evidence[at]?.power ?? 0) : 0,
      ),
    );
    const gone = strings.filter((string, at) => {
      const found = evidence[at] as Evidence;
      return string.there && canBeSilent(found) && !soundsBy(found, most, seconds);
    });
    if (gone.length === 0) return evidence;
    for (const string of gone) {
      string.there = false;
      string.tones = [];
    }
    measureStrings(spectrum, strings, [12]);
  }
}

/** Seconds from the stroke in which it is decided what sounds: later, quick strings have faded. */
const DECIDED_S = 0.35;
/** So great a part of the sound is left out as the stroke itself, and at most so many seconds. */
const STROKE_PART = 0.2;
const STROKE_S = 0.25;
/** A shorter sound than this is listened to whole. */
const WHOLE_S = 0.45;

/** What is heard in one stretch. */
interface Stretch {
  readonly strings: Listened[];
  readonly evidence: readonly Evidence[];
  /** By string beside the expected ones, its number; nothing where it is the band's. */
  readonly midis: readonly (number | undefined)[];
  readonly seconds: number;
  /** By string how it glides, where it is told by this stretch. */
  readonly glides?: readonly Glide[];
}

const meanSquare = (samples: Float32Array): number =>
  samples.reduce((sum, each) => sum + each * each, 0) / Math.max(1, samples.length);

const spectrumAt = (samples: Float32Array, sampleRate: number): Spectrum =>
  spectrumOf(samples, sampleRate, Math.min(HIGHEST_HZ + 200, sampleRate / 2.1));

function decide(
  samples: Float32Array,
  sampleRate: number,
  expected: readonly number[],
  around: Omit<Around, 'all'>,
  /** It is all there is, and cents are told by it. */
  only: boolean,
): Stretch {
  const spectrum = spectrumAt(samples, sampleRate);
  const strings = startStrings(spectrum, expected);
  measureStrings(spectrum, strings);
  settle(spectrum, strings);
  const midis = addForeign(spectrum, strings, { ...around, all: meanSquare(samples) });
  const evidence = settle(spectrum, strings);
  const heard = { strings, evidence, midis, seconds: spectrum.seconds };
  return only ? { ...heard, glides: glidesOf(spectrum, strings) } : heard;
}

/** The same strings measured in a longer stretch; one that has faded there stays as it was. */
function refine(samples: Float32Array, sampleRate: number, before: Stretch): Stretch {
  const spectrum = spectrumAt(samples, sampleRate);
  const strings = before.strings.map((each): Listened => ({ ...each, tones: [] }));
  measureStrings(spectrum, strings, [6, 12, 12]);
  const noise = noiseIn(
    withoutTones(
      spectrum,
      strings.flatMap(({ tones }) => tones),
    ),
  );
  const evidence = strings.map((each) => evidenceOf(each, spectrum.seconds, noise));
  return { ...before, strings, evidence, seconds: spectrum.seconds };
}

/** What is told of a string. */
function heardString(stretches: readonly [Stretch, Stretch], at: number): HeardString {
  const [first, longer] = stretches;
  const string = first.strings[at] as Listened;
  if (!string.there) return { sounds: false, certain: true };
  const certain = isCertain(first.evidence[at] as Evidence);
  const loud = powerOf(string);
  const most = Math.max(
    ...first.strings.map((each) => (each.there && each.band === undefined ? powerOf(each) : 0)),
  );
  if (!certain && loud < most * 10 ** (SHARED_DB / 10)) return { sounds: false, certain };
  const { own, speaking } = longer.evidence[at] as Evidence;
  const faded = own >= LEAST_OWN && speaking < LEAST_STILL;
  const by = faded ? first : longer;
  const heard = heardOf(by.strings[at] as Listened, by.seconds, by.glides?.[at]);
  return { sounds: true, certain, ...heard, levelDb: db(powerOf(string)) };
}

/** A string of whose own partials fewer speak, as a part, is not measured any more. */
const LEAST_STILL = 0.2;

/**
 * What is heard of strings that are expected at some pitches, in hertz, each as far as half a semitone from
 * there. The samples begin with the stroke; of the first part it is told what sounds, of the rest how far it
 * is off. `a4Hz` is the pitch of A4 that foreign notes are told by; what the band plays meanwhile, in hertz, is
 * none of them.
 */
export function hearGrip(
  samples: Float32Array,
  sampleRate: number,
  expected: readonly number[],
  a4Hz = 440,
  band: readonly number[] = [],
): HeardGrip {
  const silent = expected.map((): HeardString => ({ sounds: false, certain: true }));
  if (meanSquare(samples) < SILENCE || samples.length < SHORTEST_S * sampleRate)
    return { strings: silent, extra: [] };
  const seconds = samples.length / sampleRate;
  const short = seconds < WHOLE_S;
  const start = short ? samples : samples.subarray(0, Math.round(DECIDED_S * sampleRate));
  const first = decide(start, sampleRate, expected, { a4Hz, band }, short);
  const from = Math.min(STROKE_S, STROKE_PART * seconds);
  const longer = short
    ? first
    : refine(
        samples.subarray(
          Math.round(from * sampleRate),
          Math.round((from + LONGEST_S) * sampleRate),
        ),
        sampleRate,
        first,
      );
  const heard = first.strings.map((_, at) => heardString([first, longer], at));
  return {
    strings: heard.slice(0, expected.length),
    extra: first.midis.flatMap((midi, index): HeardForeign[] => {
      if (midi === undefined) return [];
      const { sounds, cents = 0, levelDb = 0 } = heard[expected.length + index] as HeardString;
      return sounds ? [{ midi, cents, levelDb }] : [];
    }),
  };
}
