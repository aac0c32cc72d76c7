/**
 * The rhythm section as plain arithmetic, for files: what the page has of its synthesizers, where no browser is
 * at hand. Pure; noise comes from a fixed seed, so that a file is the same each time.
 */
import type { BandNote } from '$lib/playing/band/band';
import { chanceFrom } from '$lib/playing/band/chance';
import type { Drum } from '$lib/playing/band/feels';
import { hzOf } from '$lib/theory/pitch';
import { Biquad } from './dsp/biquad';

/**
 * Amplitude of each part at level 1: with them the band as a whole lies six to nine decibels below a chord of three
 * strings, and what comps nine to twelve below a single line (`tests/unit/rendering/renderBand.test.ts`).
 */
const PARTS = { click: 0.2, count: 0.2, drums: 0.24, bass: 0.15, chords: 0.09 } as const;

/** Hertz of a click, and of the first of a measure. */
const CLICKS = [1600, 2000] as const;
/** Seconds in which a sound falls by 60 dB after it was struck, or was let go. */
const FALLS = { click: 0.03, bass: 2.5, chords: 2, released: 0.08 } as const;
/** Shares of the partials, from the first. */
const BASS = [1, 0.45, 0.22, 0.1] as const;
const CHORD = [1, 0.3, 0.12] as const;
/** Seconds in which a tone begins, so that it does not click. */
const BEGINS = 0.006;

/** What a drum is made of: a tone that glides down, and noise above a frequency; seconds in which they fall. */
interface Skin {
  readonly tone?: { readonly from: number; readonly to: number; readonly falls: number };
  readonly noise?: { readonly above: number; readonly falls: number };
  readonly strength: number;
}

const SKINS: Readonly<Record<Drum, Skin>> = {
  kick: { tone: { from: 130, to: 52, falls: 0.3 }, strength: 1.6 },
  snare: {
    tone: { from: 220, to: 185, falls: 0.12 },
    noise: { above: 1500, falls: 0.2 },
    strength: 0.8,
  },
  'side stick': { tone: { from: 900, to: 820, falls: 0.05 }, strength: 0.7 },
  'closed hat': { noise: { above: 7500, falls: 0.06 }, strength: 0.5 },
  'foot hat': { noise: { above: 6000, falls: 0.05 }, strength: 0.5 },
  ride: { noise: { above: 5500, falls: 0.4 }, strength: 0.35 },
};

const fallen = (seconds: number, falls: number): number => 10 ** ((-3 * seconds) / falls);

/** How a band is rendered. */
export interface BandRendering {
  readonly referenceHz: number;
  readonly sampleRate: number;
  /** Samples in all. */
  readonly samples: number;
}

/** The sound of a band's notes, in the middle. A click is at its full height in its first sample. */
export function renderBand(
  notes: readonly BandNote[],
  { referenceHz, sampleRate, samples }: BandRendering,
): Float32Array {
  const sound = new Float32Array(samples);
  const chance = chanceFrom(1);
  const add = (at: number, seconds: number, sample: (time: number, index: number) => number) => {
    const from = Math.round(at * sampleRate);
    const most = Math.min(samples - from, Math.ceil(seconds * sampleRate));
    for (let i = 0; i < most; i++)
      sound[from + i] = (sound[from + i] as number) + sample(i / sampleRate, i);
  };

  const tone = (note: BandNote & { midi: number }, shares: readonly number[]): void => {
    const { at, lasts, level, midi, part } = note;
    const falls = part === 'bass' ? FALLS.bass : FALLS.chords;
    const turn = 2 * Math.PI * hzOf(midi, referenceHz);
    const most = lasts + FALLS.released;
    add(at, most, (time) => {
      let wave = 0;
      for (let partial = 0; partial < shares.length; partial++)
        wave += (shares[partial] as number) * Math.sin(turn * (partial + 1) * time);
      const released = time > lasts ? fallen(time - lasts, FALLS.released) : 1;
      const strength = PARTS[part] * level * Math.min(1, time / BEGINS);
      return strength * fallen(time, falls) * released * wave;
    });
  };

  const drum = (at: number, { tone: skin, noise, strength }: Skin, level: number): void => {
    const loud = PARTS.drums * strength * level;
    if (skin !== undefined) {
      let phase = 0;
      add(at, skin.falls, (time) => {
        const hz = skin.to + (skin.from - skin.to) * fallen(time, 0.1);
        phase += (2 * Math.PI * hz) / sampleRate;
        return loud * fallen(time, skin.falls) * Math.sin(phase);
      });
    }
    if (noise !== undefined) {
      const above = Biquad.highpass(sampleRate, Math.min(noise.above, sampleRate / 2.2), 0.7);
      add(
        at,
        noise.falls,
        (time) => loud * fallen(time, noise.falls) * above.next(2 * chance() - 1),
      );
    }
  };

  for (const note of notes)
    switch (note.part) {
      case 'click':
      case 'count': {
        const turn = 2 * Math.PI * CLICKS[note.level === 1 ? 1 : 0];
        add(
          note.at,
          FALLS.click,
          (time) => PARTS.click * note.level * fallen(time, FALLS.click) * Math.cos(turn * time),
        );
        break;
      }
      case 'drums':
        drum(note.at, SKINS[note.drum], note.level);
        break;
      case 'bass':
      case 'chords':
        tone(note, note.part === 'bass' ? BASS : CHORD);
    }
  return sound;
}
