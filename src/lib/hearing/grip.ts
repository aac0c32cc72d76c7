/**
 * What of some expected strings is heard: whether each sounds, and how far it is from its pitch. All
 * strings are measured together, partial by partial.
 */
import { movedBy, strangeness, type Glide } from './glide';
import { heardCents, lawOf, stiffCents, USUAL_STIFFNESS, type Law, type PartialPitch } from './law';
import type { Spectrum } from './spectrum';
import { measureTones, sizeOf, toneAt, type Tone } from './tones';
import { firstCents } from './firstLook';

/** Partials are measured up to this, in hertz. */
export const HIGHEST_HZ = 5000;
/** Of each string at most so many. */
const MOST_PARTIALS = 12;
/** A pitch farther off than this is another note, in cents. */
export const WITHIN_CENTS = 50;

/** A string while it is listened for. */
export interface Listened {
  /** Its wanted pitch, in hertz. */
  readonly hz: number;
  /** It takes part; else nothing of it is in the sound. */
  there: boolean;
  law: Law;
  tones: Tone[];
  /** It is played by the band, and so many of its few partials are its own: others lie on another's. */
  readonly band?: number;
}

/** Partials of a tone of the band (`sound/band/instruments.ts`, `rendering/renderBand.ts`). */
export const BAND_PARTIALS = 4;

export const centsBetween = (from: number, to: number): number => 1200 * Math.log2(to / from);

const freshLaw = (cents: number): Law => ({ cents, stiffness: USUAL_STIFFNESS, unsure: 50 });

export const listenedAt = (hz: number, cents: number): Listened => ({
  hz,
  there: true,
  law: freshLaw(cents),
  tones: [],
});

/** Where a partial of a string lies by its law, in hertz. */
export const partialHz = ({ hz, law }: Listened, number: number): number =>
  number * hz * 2 ** ((law.cents + stiffCents(law.stiffness, number)) / 1200);

/** Nearer to another string's partial than so many bins, its pitch is not asked for. */
const TOO_NEAR = 0.8;

/** A partial that lies so near to where another string should have one, in cents, may be either's … */
const SHARED_CENTS = 15;
/** … up to this one of the other: higher ones are faint. */
const SHARED_UP_TO = 16;

function hasPartialAt(string: Listened, hz: number): boolean {
  const number = Math.round(hz / partialHz(string, 1));
  if (number < 1 || number > (string.band ?? SHARED_UP_TO)) return false;
  return Math.abs(centsBetween(partialHz(string, number), hz)) < SHARED_CENTS;
}

/** Lays the partials of all strings where their laws say, and holds those that cannot be told apart. */
function layOut(strings: readonly Listened[], most: number, seconds: number): void {
  const there = strings.filter((each) => each.there);
  for (const string of there) {
    const count = Math.min(
      most,
      string.band ?? Infinity,
      Math.floor(HIGHEST_HZ / (string.hz * 1.03)),
    );
    string.tones = Array.from({ length: count }, (_, i) => toneAt(partialHz(string, i + 1)));
  }
  for (const string of there)
    for (const tone of string.tones)
      tone.shared = there.some((other) => other !== string && hasPartialAt(other, tone.hz));
  const all = there.flatMap(({ tones }) => tones).sort((a, b) => a.hz - b.hz);
  all.forEach((tone, index) => {
    const near = (other: Tone | undefined): boolean =>
      other !== undefined && Math.abs(other.hz - tone.hz) * seconds < TOO_NEAR;
    tone.held = near(all[index - 1]) || near(all[index + 1]);
  });
}

/** What a neighbour's loudness leaves in a tone's phase, in radians a stretch. */
const LEAK = 0.5;
/** How far a first guess may be off, in bins, and is still believed. */
const MOST_OFF = 1.2;

/** The partials of a string that tell its pitch. */
export function pitchesOf({ hz, tones }: Listened, seconds: number): PartialPitch[] {
  return tones.flatMap((tone, index): PartialPitch[] => {
    if (tone.held || !Number.isFinite(tone.unsureHz)) return [];
    if (Math.abs(tone.offHz) * seconds > MOST_OFF || sizeOf(tone) < 3 * tone.rest) return [];
    const number = index + 1;
    const at = tone.hz + tone.offHz;
    // what is beside it fades as no fit knows
    const leak = (LEAK * tone.beside) / sizeOf(tone) / (2 * Math.PI * seconds);
    return [
      {
        number,
        cents: centsBetween(number * hz, at),
        unsure: (1731 * Math.hypot(tone.unsureHz, leak)) / at,
        alone: tone.alone,
      },
    ];
  });
}

/** The pitch of a string as it is heard, in cents from its wanted one, and how unsure it is; where it glides, at last. */
export function heardOf(
  string: Listened,
  seconds: number,
  glide?: Glide,
): { readonly cents: number; readonly unsure: number } {
  const pitches = pitchesOf(string, seconds).map((each): PartialPitch => {
    const strange = glide && strangeness(glide, each.number, seconds);
    return strange === undefined
      ? each
      : { ...each, unsure: Math.hypot(each.unsure, strange), followed: true };
  });
  const energies = string.tones.map((tone) => sizeOf(tone) ** 2);
  const { cents, unsure } = heardCents(string.law, pitches, energies);
  return { cents: cents + (glide === undefined ? 0 : movedBy(glide)), unsure };
}

/** Rounds of measuring: how many partials are taken in each. */
const ROUNDS = [4, 8, MOST_PARTIALS, MOST_PARTIALS];

/** Measures strings together until they agree with the sound. */
export function measureStrings(
  spectrum: Spectrum,
  strings: readonly Listened[],
  rounds: readonly number[] = ROUNDS,
): void {
  const { seconds } = spectrum;
  for (const most of rounds) {
    layOut(strings, most, seconds);
    const all = strings.filter(({ there }) => there).flatMap(({ tones }) => tones);
    for (let pass = 0; pass < 3; pass++) {
      if (pass > 0)
        for (const tone of all)
          if (!tone.held && Math.abs(tone.offHz) * seconds < MOST_OFF) tone.hz += tone.offHz;
      measureTones(spectrum, all);
    }
    for (const string of strings) {
      if (!string.there) continue;
      const law = lawOf(pitchesOf(string, seconds), string.law.cents);
      if (law !== undefined && Math.abs(law.cents) < WITHIN_CENTS + 5) string.law = law;
    }
  }
}

/** Energy of a string: the mean square of its partials. */
export const powerOf = ({ tones }: Listened): number =>
  tones.reduce((sum, tone) => sum + 2 * sizeOf(tone) ** 2, 0);

/** First the strings that are expected, near where they lie. */
export function startStrings(spectrum: Spectrum, targets: readonly number[]): Listened[] {
  const cents = firstCents(spectrum, targets, WITHIN_CENTS);
  return targets.map((hz, index) => listenedAt(hz, cents[index] ?? 0));
}
