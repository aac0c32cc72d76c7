/** Listens to a grip that is held: which strings sound, how far each is off, where the bar lies. */
import { heardBar, type HeardHold, type WantedString } from '$lib/answers/heardHold';
import type { HeardForeign, HeardGrip, HeardString } from '$lib/hearing/hear';
import { lastStroke } from '$lib/hearing/stroke';
import type { Hold } from '$lib/search/hold';
import type { Microphone } from '$lib/sound/microphone';
import { levelOf } from '$lib/tuning/detect';
import type { Ear } from './ear';
import { heardMore, type Take } from './take';

/** Four readings a second: often enough to follow a hand, seldom enough to be calm. */
const EVERY_MS = 250;
/** The first answer is given when so much of a stroke has sounded, in seconds. */
const FIRST_S = 0.25;
/** After so long without any sound the player is told. */
const SILENT_MS = 6000;
/** Quieter than this nothing sounds: −66 dB of full scale. */
const AUDIBLE = 0.0005;
/** Samples at full scale: so great a part of them says that it is too loud to be heard right. */
const CLIPPED = 0.999;
const MOST_CLIPPED = 2e-4;
/** What was heard stays to be read for so long after it has died away. */
const LINGERS_MS = 4000;

/** What is held, and what it should sound. */
export interface HeldGrip {
  readonly hold: Hold;
  readonly wanted: readonly WantedString[];
  readonly referenceHz: number;
}

export class GripListener {
  readonly #microphone: Microphone;
  readonly #makeEar: () => Ear;
  #ear: Ear | undefined;
  #timer: ReturnType<typeof setInterval> | undefined;
  #busy = false;
  #heardAtMs = 0;
  #held: HeldGrip | undefined;

  state = $state<'off' | 'asking' | 'on'>('off');
  /** Why it does not listen, as a sentence. */
  problem = $state('');
  /** What disturbs, as a sentence. */
  hint = $state('');
  strings = $state.raw<readonly HeardString[]>([]);
  extra = $state.raw<readonly HeardForeign[]>([]);
  bar = $state.raw<HeardHold['bar']>();
  /** By string of the grip, since listening began. */
  take = $state.raw<Take>([]);
  /** When the last reading was made. */
  nowMs = $state(0);

  constructor(microphone: Microphone, makeEar: () => Ear) {
    this.#microphone = microphone;
    this.#makeEar = makeEar;
    microphone.onlost = () => {
      this.stop();
      this.problem = 'The microphone went away. Press Listen to begin again.';
    };
  }

  /** What is held from now on; another grip begins another take. */
  hold(held: HeldGrip): void {
    this.#held = held;
    this.take = [];
    this.#clear();
  }

  async start(): Promise<void> {
    this.problem = '';
    this.state = 'asking';
    const opened = await this.#microphone.open();
    if (!opened.ok) {
      this.state = 'off';
      this.problem = opened.error;
      return;
    }
    // stopped while the player was asked
    if ((this.state as string) === 'off') {
      this.#microphone.close();
      return;
    }
    this.#ear = this.#makeEar();
    this.state = 'on';
    this.take = [];
    this.#clear();
    this.#heardAtMs = performance.now();
    this.#timer = setInterval(() => void this.#listen(), EVERY_MS);
  }

  stop(): void {
    clearInterval(this.#timer);
    this.#microphone.close();
    this.#ear?.dispose();
    this.#ear = undefined;
    this.state = 'off';
    this.#clear();
  }

  #clear(): void {
    this.hint = '';
    this.strings = [];
    this.extra = [];
    this.bar = undefined;
  }

  async #listen(): Promise<void> {
    const all = this.#microphone.samples();
    const held = this.#held;
    const ear = this.#ear;
    if (all === undefined || held === undefined || ear === undefined || this.#busy) return;
    const { sampleRate } = this.#microphone;
    const atMs = performance.now();
    if (levelOf(all, sampleRate) < AUDIBLE) {
      const silentMs = atMs - this.#heardAtMs;
      if (silentMs > LINGERS_MS) this.#clear();
      if (silentMs > SILENT_MS)
        this.hint =
          'Too soft to be heard. Is this the right microphone, is it turned up, is it near the amplifier?';
      return;
    }
    this.#heardAtMs = atMs;
    const clipped = all.reduce((sum, each) => sum + (Math.abs(each) > CLIPPED ? 1 : 0), 0);
    this.hint =
      clipped > MOST_CLIPPED * all.length
        ? 'Too loud: the microphone is at its end. Turn it down, or move it away.'
        : '';
    const stroke = lastStroke(all, sampleRate) ?? 0;
    if (all.length - stroke < FIRST_S * sampleRate) return;
    this.#busy = true;
    const heard = await ear.hear({
      samples: all.slice(stroke),
      sampleRate,
      expected: held.wanted.map(({ hz }) => hz),
      referenceHz: held.referenceHz,
    });
    this.#busy = false;
    // stopped, or another grip, while it was worked out
    if (ear !== this.#ear || held !== this.#held) return;
    if (heard.ok) this.#show(held, heard.value, atMs);
    else {
      this.stop();
      this.problem = heard.error;
    }
  }

  #show({ hold, wanted }: HeldGrip, heard: HeardGrip, atMs: number): void {
    this.nowMs = atMs;
    this.strings = heard.strings;
    this.extra = heard.extra;
    this.bar = heardBar(hold, wanted, heard);
    // what cannot be told apart counts for nobody
    const certain = heard.strings.map(({ certain, cents }) => (certain ? cents : undefined));
    this.take = heardMore(this.take, certain, atMs);
  }
}
