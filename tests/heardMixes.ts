/** Grips that are heard: made of notes whose pitch is known, with strings missing, foreign notes and noise. */
import {
  NOTE_RATE,
  pitchAlone,
  pitchByMoments,
  recordedNotes,
  type Instrument,
} from './recordedNotes';

/** Open strings of an E9 neck, string 1 first. */
const OPEN = [66, 63, 68, 64, 59, 56, 54, 52, 50, 47];

/** A grip before it sounds. */
export interface MixPlan {
  /** Wanted notes, as MIDI numbers. */
  readonly wanted: readonly number[];
  /** By wanted note: it is played. */
  readonly played: readonly boolean[];
  /** By wanted note: cents that it is to be off. */
  readonly off: readonly number[];
  /** By wanted note: how loud, against the others. */
  readonly loud: readonly number[];
  readonly velocity: number;
  /** A note that does not belong. */
  readonly foreign?: number;
  /** Noise in decibels against the sound; none where left out. */
  readonly noiseDb?: number;
}

/** A grip as it sounds. */
export interface Mix {
  readonly plan: MixPlan;
  readonly samples: Float32Array;
  /** By wanted note: cents that it is off equal temperament, measured on the note alone. */
  readonly cents: readonly (number | undefined)[];
  /** The same of its long ringing, moment by moment. */
  readonly byMoments: readonly (number | undefined)[];
}

/** Whether the partials of a note fall on those of a wanted other: an octave, a twelfth, two octaves. */
export const fallsOn = (midi: number, others: readonly number[]): boolean =>
  others.some((other) => [0, 12, 19, 24, 28, 31].includes(Math.abs(midi - other)));

/** A grip by chance, of so many strings. */
export function planMix(random: () => number, size: number, noiseDb?: number): MixPlan {
  const fret = Math.floor(random() * 13);
  const strings = OPEN.map((_, index) => index);
  for (let i = strings.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [strings[i], strings[j]] = [strings[j] as number, strings[i] as number];
  }
  const wanted = strings
    .slice(0, size)
    .sort((a, b) => a - b)
    .map((string) => (OPEN[string] as number) + fret);
  const bar = (random() - 0.5) * 50;
  const absent = random() < 0.35 && size > 2 ? Math.floor(random() * size) : -1;
  const played = wanted.map((_, index) => index !== absent);
  const sounding = wanted.filter((_, index) => played[index]);
  const foreign = Math.round(
    (sounding[Math.floor(random() * sounding.length)] ?? 60) + (random() - 0.5) * 14,
  );
  const strange = random() < 0.25 && !wanted.includes(foreign) && !fallsOn(foreign, wanted);
  return {
    wanted,
    played,
    off: wanted.map(() => bar + (random() - 0.5) * 8),
    loud: wanted.map(() => 10 ** ((random() - 0.5) / 3)),
    velocity: 70 + Math.floor(random() * 50),
    ...(strange ? { foreign } : {}),
    ...(noiseDb === undefined ? {} : { noiseDb }),
  };
}

/** A normally spread number, by Box and Muller. */
const spread = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

/** Adds white noise so many decibels below the sound. */
export function withNoise(
  samples: Float32Array,
  db: number | undefined,
  random: () => number,
): Float32Array {
  if (db === undefined) return samples;
  const power = samples.reduce((sum, each) => sum + each * each, 0) / samples.length;
  const size = Math.sqrt(power) * 10 ** (-Math.abs(db) / 20);
  return samples.map((each) => each + size * spread(random));
}

/** Mixes of recorded notes, all rendered at once. */
export function recordedMixes(
  instrument: Instrument,
  plans: readonly MixPlan[],
  random: () => number,
  /** Seconds in which the truth is measured; the long ringing of each note where left out. */
  stretch?: readonly [number, number],
): Mix[] {
  const wanted = plans.flatMap(({ wanted, off, velocity, foreign }) => [
    ...wanted.map((midi, index) => ({ midi: midi + (off[index] ?? 0) / 100, velocity })),
    ...(foreign === undefined ? [] : [{ midi: foreign + (off[0] ?? 0) / 100, velocity }]),
  ]);
  const notes = recordedNotes(instrument, wanted);
  let at = 0;
  return plans.map((plan): Mix => {
    const sum = new Float32Array(notes[0]?.length ?? 0);
    const byMoments: (number | undefined)[] = plan.wanted.map(() => undefined);
    const cents = plan.wanted.map((midi, index) => {
      const note = notes[at] as Float32Array;
      const asked = wanted[at++]?.midi ?? midi;
      if (!plan.played[index]) return undefined;
      note.forEach((each, i) => (sum[i] = (sum[i] as number) + each * (plan.loud[index] ?? 1)));
      byMoments[index] = (pitchByMoments(note, asked) - midi) * 100;
      return (pitchAlone(note, asked, stretch) - midi) * 100;
    });
    if (plan.foreign !== undefined) {
      const note = notes[at++] as Float32Array;
      note.forEach((each, i) => (sum[i] = (sum[i] as number) + each));
    }
    return { plan, samples: withNoise(sum, plan.noiseDb, random), cents, byMoments };
  });
}

export { NOTE_RATE };
