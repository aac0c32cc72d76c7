/** The band's instruments, of the synthesizers of `tone`, each part behind a level of its own. */
import './silence';
import { Gain } from 'tone/build/esm/core/context/Gain.js';
import type { Context } from 'tone/build/esm/core/context/Context.js';
import { Filter } from 'tone/build/esm/component/filter/Filter.js';
import { MembraneSynth } from 'tone/build/esm/instrument/MembraneSynth.js';
import { NoiseSynth } from 'tone/build/esm/instrument/NoiseSynth.js';
import { Synth } from 'tone/build/esm/instrument/Synth.js';
import type { BandNote } from '$lib/playing/band/band';
import type { Drum } from '$lib/playing/band/feels';
import { USUAL_LEVEL, type Levelled, type Levels } from '$lib/playing/band/levels';
import { hzOf } from '$lib/theory/pitch';
import { bandPlays } from '../played';

/**
 * What each part is multiplied by with its slider all the way up. Set so that with the sliders where they stand
 * at first (`USUAL_LEVEL`) the band as a whole lies six to nine decibels below the strings.
 */
const FULL: Readonly<Record<Levelled, number>> = {
  click: 0.4,
  drums: 0.76,
  bass: 0.5,
  chords: 0.27,
  drone: 0.12,
};
/** The ear counts in ratios: with the square a slider's steps sound about alike. */
const gainOf = (part: Levelled, level: number): number => FULL[part] * level ** 2;

/** At its full height with its first sample, so that its place is beyond doubt. */
const CLICK = {
  oscillator: { type: 'sine', phase: 90 },
  envelope: { attack: 0, decay: 0.03, sustain: 0, release: 0.01 },
  hz: 1600,
} as const;

/** Voices that comp: two chords of four may ring over each other. */
const CHORD_VOICES = 8;
/** Seconds in which a level follows, and in which all of it is faded when it ends. */
const FOLLOWS = 0.02;
/** Two strokes of one instrument that are nearer than this (s) are one. */
const ONE_STROKE = 0.004;
/** Below this the library's envelopes do not go. */
const SHORTEST = 0.02;

/** A voice that is struck, and when it was last. */
interface Struck {
  last: number;
  strike(time: number, level: number): void;
}

/** Everything that a band sounds on. It is made for one playing, and let go of after it. */
export class BandInstruments {
  readonly #parts: Readonly<Record<Levelled, Gain>>;
  readonly #all: Gain;
  readonly #click: Struck;
  readonly #count: Struck;
  readonly #drums: Readonly<Record<Drum, Struck>>;
  readonly #bass: Synth;
  readonly #chords: readonly Synth[];
  #nextVoice = 0;
  #lastBass = -Infinity;
  #drone: readonly Synth[] = [];
  /** Ends what is told of the drone, and of what is still to sound. */
  #ends: readonly (() => void)[] = [];
  readonly #told: { readonly until: number; readonly end: () => void }[] = [];
  readonly #referenceHz: number;
  readonly #context: Context;

  constructor(context: Context, referenceHz: number, levels: Levels) {
    this.#context = context;
    this.#referenceHz = referenceHz;
    this.#all = new Gain({ context, gain: 1 });
    const part = (name: Levelled): Gain =>
      new Gain({ context, gain: gainOf(name, levels[name]) }).connect(this.#all);
    this.#parts = {
      click: part('click'),
      drums: part('drums'),
      bass: part('bass'),
      chords: part('chords'),
      drone: part('drone'),
    };
    this.#click = this.#tone(this.#parts.click, CLICK);
    const counts = gainOf('click', USUAL_LEVEL);
    this.#count = this.#tone(new Gain({ context, gain: counts }).connect(this.#all), CLICK);
    const { drums } = this.#parts;
    this.#drums = {
      kick: this.#kick(drums),
      snare: this.#noise(drums, { type: 'bandpass', frequency: 1800, Q: 0.6 }, 0.16, 1.1),
      'side stick': this.#tone(drums, {
        oscillator: { type: 'triangle' },
        envelope: { attack: 0.001, decay: 0.04, sustain: 0, release: 0.01 },
        hz: 820,
      }),
      'closed hat': this.#noise(drums, { type: 'highpass', frequency: 7500, Q: 0.7 }, 0.05, 0.5),
      'foot hat': this.#noise(drums, { type: 'highpass', frequency: 6000, Q: 0.7 }, 0.035, 0.5),
      ride: this.#noise(drums, { type: 'highpass', frequency: 5500, Q: 0.7 }, 0.28, 0.4),
    };
    this.#bass = new Synth({
      context,
      oscillator: { type: 'custom', partials: [1, 0.45, 0.22, 0.1] },
      envelope: { attack: 0.006, decay: 0.5, sustain: 0.35, release: 0.06 },
    }).connect(this.#parts.bass);
    this.#chords = Array.from({ length: CHORD_VOICES }, () =>
      new Synth({
        context,
        oscillator: { type: 'custom', partials: [1, 0.3, 0.12, 0.05] },
        envelope: { attack: 0.008, decay: 0.6, sustain: 0.25, release: 0.1 },
      }).connect(this.#parts.chords),
    );
  }

  /** Where all of it comes out. */
  get output(): AudioNode {
    return this.#all.output;
  }

  /** Sounds a note at a time of the context, for so many seconds; what is struck twice at once sounds once. */
  play(note: BandNote, time: number, lasts: number): void {
    const { level } = note;
    switch (note.part) {
      case 'click':
        strikeOnce(this.#click, time, level);
        break;
      case 'count':
        strikeOnce(this.#count, time, level);
        break;
      case 'drums':
        strikeOnce(this.#drums[note.drum], time, level);
        break;
      case 'bass':
        if (time < this.#lastBass + ONE_STROKE) break;
        this.#lastBass = time;
        this.#tell(note.midi, time, lasts);
        this.#bass.triggerAttackRelease(
          this.#hz(note.midi),
          Math.max(SHORTEST, lasts),
          time,
          level,
        );
        break;
      case 'chords':
        this.#tell(note.midi, time, lasts);
        this.#chords[this.#nextVoice]?.triggerAttackRelease(
          this.#hz(note.midi),
          Math.max(SHORTEST, lasts),
          time,
          level,
        );
        this.#nextVoice = this.#nextVoice + 1 < CHORD_VOICES ? this.#nextVoice + 1 : 0;
        break;
    }
  }

  setLevel(part: Levelled, level: number): void {
    const { currentTime } = this.#context.rawContext;
    this.#parts[part].gain.setTargetAtTime(gainOf(part, level), currentTime, FOLLOWS);
  }

  /** Pitches that sound until others are asked for; none where the list is empty. */
  drone(pitches: readonly number[]): void {
    const { currentTime } = this.#context.rawContext;
    for (const voice of this.#drone) voice.triggerRelease(currentTime);
    for (const end of this.#ends) end();
    this.#ends = pitches.map((midi) => this.#heard(midi, currentTime, Infinity));
    this.#drone = pitches.map((midi) => {
      const voice = new Synth({
        context: this.#context,
        oscillator: { type: 'custom', partials: [1, 0.5, 0.33, 0.2, 0.1] },
        envelope: { attack: 0.3, decay: 0.1, sustain: 1, release: 0.3 },
      }).connect(this.#parts.drone);
      voice.triggerAttack(this.#hz(midi), currentTime);
      return voice;
    });
  }

  /** Fades, and lets go of all. */
  end(): void {
    const { currentTime } = this.#context.rawContext;
    this.#all.gain.cancelScheduledValues(currentTime);
    this.#all.gain.setTargetAtTime(0, currentTime, FOLLOWS);
    for (const voice of this.#drone) voice.triggerRelease(currentTime);
    for (const end of [...this.#ends, ...this.#told.map(({ end }) => end)]) end();
    // cut off as a whole: taken apart one by one, what is still ending cuts connections that are cut already
    setTimeout(() => this.#all.disconnect(), 400);
  }

  /** Whoever listens to a microphone is to know of a note. */
  #tell(midi: number, time: number, lasts: number): void {
    const { currentTime } = this.#context.rawContext;
    while ((this.#told[0]?.until ?? Infinity) < currentTime) this.#told.shift();
    this.#told.push({ until: time + lasts, end: this.#heard(midi, time, lasts) });
  }

  #heard(midi: number, time: number, lasts: number): () => void {
    const from = performance.now() + 1000 * (time - this.#context.rawContext.currentTime);
    return bandPlays({ hz: this.#hz(midi), from, until: from + 1000 * lasts });
  }

  #hz(midi: number): number {
    return hzOf(midi, this.#referenceHz);
  }

  #tone(
    to: Gain,
    { hz, ...options }: { hz: number } & ConstructorParameters<typeof Synth>[0],
  ): Struck {
    const synth = new Synth({ context: this.#context, ...options }).connect(to);
    return {
      last: -Infinity,
      strike(time, level) {
        // the first beat is higher
        synth.triggerAttack(level === 1 ? hz * 1.25 : hz, time, level);
      },
    };
  }

  #kick(to: Gain): Struck {
    const synth = new MembraneSynth({
      context: this.#context,
      octaves: 3,
      pitchDecay: 0.03,
      envelope: { attack: 0.001, decay: 0.25, sustain: 0, release: 0.05 },
    }).connect(to);
    return {
      last: -Infinity,
      strike(time, level) {
        synth.triggerAttack(52, time, level);
      },
    };
  }

  #noise(
    to: Gain,
    filter: { type: BiquadFilterType; frequency: number; Q: number },
    decay: number,
    strength: number,
  ): Struck {
    const context = this.#context;
    const through = new Filter({ context, ...filter }).connect(to);
    const synth = new NoiseSynth({
      context,
      noise: { type: 'white' },
      envelope: { attack: 0.001, decay, sustain: 0 },
    }).connect(through);
    return {
      last: -Infinity,
      strike(time, level) {
        synth.triggerAttack(time, Math.min(1, level * strength));
      },
    };
  }
}

/** The library wants each stroke of an instrument later than the one before. */
function strikeOnce(struck: Struck, time: number, level: number): void {
  if (time < struck.last + ONE_STROKE) return;
  struck.last = time;
  struck.strike(time, level);
}
