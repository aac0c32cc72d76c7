/**
 * Listens for grips by the microphone: for any place that asks a player to play something.
 *
 * ```ts
 * const ear = new GripEar();
 * ear.onplayed = (played) => { if (played.settled) judge(played.right, played.average); };
 * ear.ontrouble = (sentence) => show(sentence); // '' where nothing disturbs
 * ear.onlost = (sentence) => show(sentence);
 * const opened = await ear.open(); // in answer to a touch; refused with a sentence
 * if (opened.ok) ear.listenFor(expectedOf(setup, hold)); // and again for the next grip
 * ear.close(); // the light of the microphone goes out
 * ```
 *
 * Every stroke is told first 250 ms after it, and up to twice more as it rings, finer each time; the
 * last has `settled`. Strokes that fell before `listenFor` belong to the grip before. Nothing is kept.
 */
import { playedGrip, type PlayedGrip } from '$lib/hearing/playedGrip';
import type { GripReading } from '$lib/hearing/stream';
import { TroubleWatch } from '$lib/hearing/trouble';
import { ok, type Result } from '$lib/result';
import { createMicrophone, type HeardSound, type Microphone } from '$lib/sound/microphone';
import { bandPitches, lastPlayed } from '$lib/sound/played';
import { createEar, type Ear } from './ear';
import type { Expected } from './earMessages';
import { TROUBLE_WORDS } from './heardWords';

/** So often it is looked whether the own playing is heard. */
const ECHO_MS = 1000;

export class GripEar {
  readonly #microphone: Microphone;
  readonly #makeEar: () => Ear;
  #ear: Ear | undefined;
  #expected: Expected | undefined;
  #echo = false;
  #timer: ReturnType<typeof setInterval> | undefined;
  #opening = 0;

  /** Every look at what sounds, also where nothing was struck. Times are of the microphone's clock, in seconds. */
  onreading: ((reading: GripReading) => void) | undefined;
  /** A grip that was played, and how well. */
  onplayed: ((played: PlayedGrip) => void) | undefined;
  /** A stroke fell, whatever was struck: told at once, before it is known what sounds. */
  onstroke: ((at: number) => void) | undefined;
  /** What disturbs, as a sentence; empty where nothing does. */
  ontrouble: ((sentence: string) => void) | undefined;
  /** It listens no longer, and why, as a sentence. */
  onlost: ((sentence: string) => void) | undefined;
  /** The sound itself, for whoever records it, and what of the band may be heard in it, in hertz. */
  onsound: ((sound: HeardSound, band: readonly number[]) => void) | undefined;

  constructor(microphone: Microphone = createMicrophone(), makeEar: () => Ear = createEar) {
    this.#microphone = microphone;
    this.#makeEar = makeEar;
  }

  get sampleRate(): number {
    return this.#microphone.sampleRate;
  }

  /** The context whose clock readings are timed by; nothing while it is shut. */
  get context(): AudioContext | undefined {
    return this.#microphone.context;
  }

  /** Whether it listens. */
  get isOpen(): boolean {
    return this.#ear !== undefined;
  }

  /** Opens the microphone; refused with a sentence. Where it was closed meanwhile, it stays closed. */
  async open(): Promise<Result<undefined, string>> {
    this.close();
    const number = this.#opening;
    const opened = await this.#microphone.open();
    if (!opened.ok) return opened;
    if (number !== this.#opening) return ok(undefined);
    const ear = this.#makeEar();
    const watch = new TroubleWatch();
    let told: string | undefined;
    ear.onreading = (reading) => {
      this.onreading?.(reading);
      const played = playedGrip(reading);
      if (played !== undefined) this.onplayed?.(played);
    };
    ear.onstroke = (at) => this.onstroke?.(at);
    ear.onloudness = (at, loudness) => {
      const trouble = watch.look(at, loudness, this.#echo);
      const sentence = trouble === undefined ? '' : TROUBLE_WORDS[trouble];
      if (sentence !== told) this.ontrouble?.(sentence);
      told = sentence;
    };
    ear.onecho = (heard) => (this.#echo = heard);
    const lost = (why: string): void => {
      this.close();
      this.onlost?.(why);
    };
    ear.onlost = lost;
    this.#microphone.onlost = () => lost('The microphone went away. Press Listen to begin again.');
    this.#microphone.onsound = (sound) => {
      const band = bandPitches();
      this.onsound?.(sound, band);
      ear.push(sound.samples, sound.at, band);
    };
    this.#ear = ear;
    if (this.#expected) ear.expect(this.#expected, this.#microphone.sampleRate);
    this.#timer = setInterval(() => {
      const played = lastPlayed(this.#microphone.sampleRate);
      if (played === undefined) this.#echo = false;
      else ear.plays(played);
    }, ECHO_MS);
    return ok(undefined);
  }

  /** What should be played from now on. */
  listenFor(expected: Expected): void {
    this.#expected = expected;
    this.#ear?.expect(expected, this.#microphone.sampleRate);
  }

  /**
   * When a time of the microphone's clock was, in milliseconds of `performance.now()`, with the delay from
   * loudspeaker to microphone taken off: to be held against when a sound was due to leave the program.
   */
  pageMs(at: number, delay = 0): number {
    const now = this.context?.currentTime ?? at;
    return performance.now() - (now - at + delay) * 1000;
  }

  /** Lets go of the microphone. */
  close(): void {
    this.#opening++;
    clearInterval(this.#timer);
    this.#echo = false;
    this.#microphone.onsound = undefined;
    this.#microphone.close();
    this.#ear?.dispose();
    this.#ear = undefined;
  }
}
