/**
 * Single notes of recorded instruments out of the soundfonts that Debian carries (packages fluidsynth,
 * fluid-soundfont-gm), and their true pitches, measured on each note alone.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const FONT = '/usr/share/sounds/sf2/FluidR3_GM.sf2';
const PROGRAM = '/usr/bin/fluidsynth';

/** Whether notes can be had on this machine. */
export const HAS_NOTES = existsSync(FONT) && existsSync(PROGRAM);

/** Samples a second of every note. */
export const NOTE_RATE = 44_100;
/** Seconds that a note sounds, and that are kept of it. */
const HELD_S = 1.85;
/** Seconds from one note to the next: each is over when the next begins. */
const APART_S = 4;

/** Instruments by their number in General MIDI, counted from 0. */
export const INSTRUMENTS = {
  'nylon guitar': 24,
  'steel guitar': 25,
  'jazz guitar': 26,
  'clean guitar': 27,
} as const;
export type Instrument = keyof typeof INSTRUMENTS;

/** A note to be had. */
export interface NoteWanted {
  /** In semitones; a fraction bends it. */
  readonly midi: number;
  /** 1 … 127. */
  readonly velocity: number;
}

const TICKS_A_SECOND = 960;

/** Variable-length quantity (Standard MIDI Files 1.1). */
function quantity(value: number): number[] {
  const bytes = [value & 0x7f];
  for (let rest = value >> 7; rest > 0; rest >>= 7) bytes.unshift((rest & 0x7f) | 0x80);
  return bytes;
}

/** A file of format 0 that plays the notes one after the other; 480 ticks a quarter, two quarters a second. */
function midiFile(program: number, notes: readonly NoteWanted[]): Uint8Array {
  const track: number[] = [0, 0xc0, program];
  let wait = 0;
  for (const { midi, velocity } of notes) {
    const key = Math.round(midi);
    // the wheel reaches two semitones
    const bend = Math.max(0, Math.min(16_383, Math.round(8192 + ((midi - key) / 2) * 8192)));
    track.push(...quantity(wait), 0xe0, bend & 0x7f, bend >> 7);
    track.push(0, 0x90, key, velocity);
    track.push(...quantity(Math.round(HELD_S * TICKS_A_SECOND)), 0x80, key, 0);
    wait = Math.round((APART_S - HELD_S) * TICKS_A_SECOND);
  }
  track.push(...quantity(wait), 0xff, 0x2f, 0);
  const size = track.length;
  return Uint8Array.from([
    ...[0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 0, 0, 1, 480 >> 8, 480 & 255],
    ...[0x4d, 0x54, 0x72, 0x6b, size >> 24, (size >> 16) & 255, (size >> 8) & 255, size & 255],
    ...track,
  ]);
}

/** The notes as they sound, without effects. */
export function recordedNotes(
  instrument: Instrument,
  notes: readonly NoteWanted[],
): Float32Array[] {
  const folder = mkdtempSync(join(tmpdir(), 'notes-'));
  try {
    const [song, sound] = [join(folder, 'notes.mid'), join(folder, 'notes.raw')];
    writeFileSync(song, midiFile(INSTRUMENTS[instrument], notes));
    const how = ['-q', '-n', '-i', '-R', '0', '-C', '0', '-g', '1', '-r', String(NOTE_RATE)];
    execFileSync(PROGRAM, [...how, '-O', 's16', '-E', 'little', '-F', sound, FONT, song], {
      stdio: 'ignore',
    });
    const bytes = readFileSync(sound);
    const sampleAt = (frame: number): number =>
      4 * frame + 2 > bytes.length ? 0 : bytes.readInt16LE(4 * frame) / 32_768;
    return notes.map((_, index) =>
      Float32Array.from({ length: Math.round(HELD_S * NOTE_RATE) }, (__, i) =>
        sampleAt(Math.round(index * APART_S * NOTE_RATE) + i),
      ),
    );
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Amplitude and frequency of a tone near `hz`, by the turn of its phase between two long windows. */
function toneNear(
  x: Float32Array,
  hz: number,
  rounds = 6,
): { readonly hz: number; readonly size: number } {
  const all = x.length;
  const length = Math.round(all * 0.75);
  const hop = all - length;
  let at = hz;
  let size = 0;
  for (let round = 0; round < rounds; round++) {
    const found = [0, hop].map((from) => {
      let [re, im] = [0, 0];
      for (let i = 0; i < length; i++) {
        const angle = (2 * Math.PI * at * (from + i)) / NOTE_RATE;
        const taper = 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / length);
        const value = taper * (x[from + i] as number);
        re += value * Math.cos(angle);
        im -= value * Math.sin(angle);
      }
      return [re, im] as const;
    });
    const [[re1, im1], [re2, im2]] = found as [[number, number], [number, number]];
    const turn = Math.atan2(im2 * re1 - re2 * im1, re2 * re1 + im2 * im1);
    size = Math.hypot(re1, im1) / length;
    at += (turn * NOTE_RATE) / (2 * Math.PI * hop);
  }
  return { hz: at, size };
}

/** Seconds of the stretches in which a tone is found step by step: each is at most three times the one before. */
const STEPS_S = [0.08, 0.2, 0.5, 0.8] as const;

/** The pitch of partials together, in semitones: each counts by its energy. */
function byEnergy(partials: readonly { readonly midi: number; readonly energy: number }[]): number {
  const all = partials.reduce((sum, { energy }) => sum + energy, 0);
  return partials.reduce((sum, { midi, energy }) => sum + energy * midi, 0) / all;
}
const midiOf = (hz: number): number => 69 + 12 * Math.log2(hz / 440);
const TELLING = [1, 2] as const;

/**
 * The pitch of a note alone, in semitones: of its partials 1 and 2 in a stretch of seconds, each counting by
 * its energy.
 */
export function pitchAlone(
  note: Float32Array,
  midi: number,
  [from, to]: readonly [number, number] = [0.25, 1.45],
): number {
  const x = note.subarray(Math.round(from * NOTE_RATE), Math.round(to * NOTE_RATE));
  const wanted = 440 * 2 ** ((midi - 69) / 12);
  // shorter stretches first: a longer one must be near already, or it takes one turn for another
  const near = (hz: number): number =>
    STEPS_S.filter((step) => step < to - from).reduce(
      (at, step) => toneNear(x.subarray(0, Math.round(step * NOTE_RATE)), at).hz,
      hz,
    );
  return byEnergy(
    TELLING.map((number) => {
      const { hz, size } = toneNear(x, near(number * wanted));
      return { midi: midiOf(hz / number), energy: size ** 2 };
    }),
  );
}

/** Seconds of the moments of a note, and from one to the next. */
const MOMENT_S = 0.12;
const MOMENTS_APART_S = 0.04;

/**
 * The pitch of a note alone from a quarter of a second on, in semitones, as `pitchAlone`, but moment by moment: each
 * counts by its energy. One long window tells a note that has faded before its middle by what is left of it there,
 * which is the end of the recording, gone round and round.
 */
export function pitchByMoments(note: Float32Array, midi: number): number {
  const wanted = 440 * 2 ** ((midi - 69) / 12);
  const at = (seconds: number, length: number): Float32Array =>
    note.subarray(Math.round(seconds * NOTE_RATE), Math.round((seconds + length) * NOTE_RATE));
  const begins = toneNearBoth(at(0.25, 0.08), wanted);
  const near = toneNearBoth(at(0.25, 0.2), begins[0], begins[1]);
  const moments = Array.from(
    { length: Math.floor((1.2 - MOMENT_S) / MOMENTS_APART_S) + 1 },
    (_, index) => at(0.25 + index * MOMENTS_APART_S, MOMENT_S),
  );
  return byEnergy(
    moments.flatMap((moment) =>
      TELLING.map((number, index) => {
        const { hz, size } = toneNear(moment, near[index] ?? number * wanted, 2);
        return { midi: midiOf(hz / number), energy: size ** 2 };
      }),
    ),
  );
}
/** Partials 1 and 2. */
const toneNearBoth = (x: Float32Array, first: number, second = 2 * first): [number, number] => [
  toneNear(x, first).hz,
  toneNear(x, second).hz,
];
