/** Renders the instrument offline and measures what comes out. */
import * as Tone from 'tone';
import { PitchDetector } from 'pitchy';
import { notesOf, type Manner, type PickedPitch } from '$lib/sound/schedule';
import { stringsOf, type Strings } from '$lib/sound/strings';

export const RATE = 44_100;

/** Seconds of mono sound, from the same builder that plays on the page. */
export async function render(
  seconds: number,
  play: (strings: Strings) => void,
): Promise<Float32Array> {
  const buffer = await Tone.Offline(
    () => {
      play(stringsOf(Tone));
    },
    seconds,
    1,
    RATE,
  );
  return buffer.getChannelData(0);
}

/** A grip struck 0.05 s after the start. */
export const renderGrip = (
  pitches: readonly PickedPitch[],
  manner: Manner,
  seconds: number,
  referenceHz = 440,
): Promise<Float32Array> =>
  render(seconds, (strings) => {
    strings.strike(notesOf(pitches, manner), 0.05, referenceHz);
  });

/** The pitch in hertz of a window that begins at a time, by McLeod's method (pitchy). */
export function hzAt(sound: Float32Array, seconds: number, size = 8192): number {
  const from = Math.round(seconds * RATE);
  const [hz, clarity] = PitchDetector.forFloat32Array(size).findPitch(
    sound.slice(from, from + size),
    RATE,
  );
  if (clarity < 0.9) throw new Error(`no clear pitch (clarity ${clarity.toFixed(2)})`);
  return hz;
}

export const centsBetween = (a: number, b: number): number => 1200 * Math.log2(a / b);

/** Amplitude of one frequency in a window (Goertzel's algorithm, Hann window). */
export function amplitudeOf(sound: Float32Array, hz: number, from: number, size: number): number {
  let real = 0;
  let imaginary = 0;
  for (let i = 0; i < size; i++) {
    const window = 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / size);
    const phase = (2 * Math.PI * hz * i) / RATE;
    const sample = (sound[from + i] ?? 0) * window;
    real += sample * Math.cos(phase);
    imaginary += sample * Math.sin(phase);
  }
  return (4 * Math.hypot(real, imaginary)) / size;
}

export const peakOf = (sound: Float32Array): number =>
  sound.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);

/**
 * The peak between the samples too: four times oversampled with a windowed sinc of 24 samples, in
 * the manner of ITU-R BS.1770-4, annex 2. Only about the loudest samples, where it matters.
 */
export function truePeakOf(sound: Float32Array): number {
  const peak = peakOf(sound);
  let most = peak;
  for (let i = 12; i < sound.length - 12; i++) {
    if (Math.abs(sound[i] ?? 0) < 0.7 * peak) continue;
    for (const part of [-0.75, -0.5, -0.25, 0.25, 0.5, 0.75]) {
      let sum = 0;
      for (let k = -12; k <= 12; k++) {
        const x = part - k;
        const window = Math.cos((Math.PI * x) / 26) ** 2;
        sum += ((sound[i + k] ?? 0) * window * Math.sin(Math.PI * x)) / (Math.PI * x);
      }
      most = Math.max(most, Math.abs(sum));
    }
  }
  return most;
}

export const rmsOf = (sound: Float32Array): number =>
  Math.sqrt(sound.reduce((sum, sample) => sum + sample * sample, 0) / sound.length);

export const dbOf = (amplitude: number): number => 20 * Math.log10(amplitude);
