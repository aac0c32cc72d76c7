/**
 * The instrument: one `tone` synthesizer a string, behind one gain and a limiter. It is built in
 * whatever context `tone` works in at the moment, so that tests can render the same thing offline.
 */
import type * as ToneModule from 'tone';
import { hzOf } from '$lib/theory/pitch';
import type { ScheduledNote } from './schedule';

export type Tone = typeof ToneModule;

/** A moderate start: a chord of six strings stays clear of the limiter. */
const LEVEL_DB = -19;
/** The limiter's threshold; peaks stay below −1 dBFS. */
const LIMIT_DB = -6;
/** Seconds in which a damped string falls silent: short, and slow enough not to click. */
const DAMPED = 0.03;
/**
 * Seconds to leave between damping and striking. Longer than the damping, so that an oscillator has
 * always ended before the next begins on the same string; else `tone` loses count and leaves
 * oscillators running.
 */
export const REST = 0.04;
/**
 * `tone` turns the length of a decay into a time constant, ln(1 + s) / ln 200: 40 gives 0.7 s, which
 * is 12 dB a second, so that a chord is still heard when it is damped after three.
 */
const DECAY = 40;

/** Harmonics of a string plucked near the bridge: bright, falling off towards the top. */
const HARMONICS = [1, 0.5, 0.36, 0.2, 0.12, 0.08, 0.05, 0.03, 0.02, 0.01];

export interface Strings {
  /** Strikes strings at a time of the context, in seconds. */
  strike(notes: readonly ScheduledNote[], now: number, referenceHz: number): void;
  /** Damps every string at a time of the context. */
  damp(now: number): void;
  /** 0 (silent) to 1 (as loud as it goes). */
  setLevel(level: number): void;
  dispose(): void;
}

/** Builds the strings; each is made when it is first struck. */
export function stringsOf(tone: Tone): Strings {
  const limiter = new tone.Limiter(LIMIT_DB).toDestination();
  const gain = new tone.Gain(tone.dbToGain(LEVEL_DB)).connect(limiter);
  const made = new Map<number, ToneModule.MonoSynth>();

  const stringAt = (string: number): ToneModule.MonoSynth => {
    let synth = made.get(string);
    if (synth === undefined) {
      synth = new tone.MonoSynth({
        oscillator: { type: 'custom', partials: HARMONICS },
        // a quick attack, then the long fall of a struck string
        envelope: {
          attack: 0.004,
          decay: DECAY,
          sustain: 0,
          release: DAMPED,
          decayCurve: 'exponential',
        },
        // bright at first, mellow as it rings; far enough above the notes that its closing, which
        // shifts phases, does not bend the pitch
        filter: { type: 'lowpass', rolloff: -12, Q: 0.5 },
        filterEnvelope: {
          attack: 0.002,
          decay: 1.6,
          sustain: 0.2,
          release: 0.2,
          baseFrequency: 1800,
          octaves: 2.2,
        },
        portamento: 0,
      }).connect(gain);
      made.set(string, synth);
    }
    return synth;
  };

  return {
    strike(notes, now, referenceHz) {
      for (const { string, midi, at, duration } of notes)
        stringAt(string).triggerAttackRelease(hzOf(midi, referenceHz), duration, now + at);
    },
    damp(now) {
      for (const synth of made.values()) {
        // What was to begin later must not. A string that sounds is not cancelled but released,
        // which goes on from where it is; cancelling in the midst of an attack would click.
        if (synth.getLevelAtTime(now) === 0) {
          synth.envelope.cancel(now);
          synth.filterEnvelope.cancel(now);
        }
        synth.triggerRelease(now);
      }
    },
    setLevel(level) {
      gain.gain.rampTo(tone.dbToGain(LEVEL_DB) * Math.max(0, Math.min(1, level)), 0.05);
    },
    dispose() {
      for (const synth of made.values()) synth.dispose();
      made.clear();
      gain.dispose();
      limiter.dispose();
    },
  };
}
