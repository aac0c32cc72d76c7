/** Open notes that are played rather than typed: string by string before the microphone, or on a keyboard. */
import type { Keyboard } from '$lib/midi/keyboard';
import type { Microphone } from '$lib/sound/microphone';
import type { Midi } from '$lib/theory/pitch';
import { detect, levelOf } from '$lib/tuning/detect';
import { NOTHING_STRUCK, struck, type StruckReading } from '$lib/tuning/struck';

const EVERY_MS = 50;

export class HeardStrings {
  readonly #microphone: () => Microphone;
  readonly #keyboard: () => Keyboard;
  readonly #ontold: (midi: Midi) => void;
  #stop: (() => void) | undefined;
  #state = NOTHING_STRUCK;
  #opening = 0;

  by = $state<'microphone' | 'keyboard' | undefined>();
  asking = $state(false);
  /** Why nothing is heard, as a sentence. */
  problem = $state('');
  /** The keyboards that are plugged in. */
  keyboards = $state.raw<readonly string[]>([]);

  /** `ontold` gets every string's note. */
  constructor(
    microphone: () => Microphone,
    keyboard: () => Keyboard,
    ontold: (midi: Midi) => void,
  ) {
    this.#microphone = microphone;
    this.#keyboard = keyboard;
    this.#ontold = ontold;
  }

  stop(): void {
    this.#opening++;
    this.#stop?.();
    this.#stop = undefined;
    this.by = undefined;
    this.asking = false;
  }

  /** Begins anew; whether it is still wanted when the browser has answered. */
  #begin(): () => boolean {
    this.stop();
    this.problem = '';
    this.asking = true;
    const number = this.#opening;
    return () => number === this.#opening;
  }

  async listen(): Promise<void> {
    const isWanted = this.#begin();
    const microphone = this.#microphone();
    const opened = await microphone.open();
    if (!isWanted()) {
      microphone.close();
      return;
    }
    this.asking = false;
    if (!opened.ok) {
      this.problem = opened.error;
      return;
    }
    this.by = 'microphone';
    this.#state = NOTHING_STRUCK;
    microphone.onlost = () => {
      this.stop();
      this.problem = 'The microphone went away. Press Listen to begin again.';
    };
    const timer = setInterval(() => {
      const samples = microphone.samples();
      if (samples === undefined) return;
      const heard = detect(samples, microphone.sampleRate);
      const isClear = heard !== undefined && !heard.several && heard.alone !== true;
      this.hear({
        atMs: performance.now(),
        level: levelOf(samples, microphone.sampleRate),
        hz: isClear ? heard.hz : undefined,
      });
    }, EVERY_MS);
    this.#stop = () => {
      clearInterval(timer);
      microphone.onlost = undefined;
      microphone.close();
    };
  }

  /** One reading of the microphone. */
  hear(reading: StruckReading): void {
    const { state, told } = struck(this.#state, reading);
    this.#state = state;
    if (told !== undefined) this.#ontold(told);
  }

  async playKeys(): Promise<void> {
    const isWanted = this.#begin();
    const keyboard = this.#keyboard();
    const opened = await keyboard.open();
    if (!isWanted()) {
      keyboard.close();
      return;
    }
    this.asking = false;
    if (!opened.ok) {
      this.problem = opened.error;
      return;
    }
    this.by = 'keyboard';
    this.keyboards = keyboard.names();
    keyboard.onchange = () => (this.keyboards = keyboard.names());
    keyboard.onkey = ({ midi, isDown }) => {
      if (isDown) this.#ontold(midi);
    };
    this.#stop = () => keyboard.close();
  }
}
