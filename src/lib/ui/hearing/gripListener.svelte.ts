/** Listens to a grip that is held, and says what is shown: strings, cents, the bar, and the take as a whole. */
import { heardBar, type WantedString } from '$lib/answers/heardHold';
import type { HeardForeign } from '$lib/hearing/hear';
import type { PlayedGrip } from '$lib/hearing/playedGrip';
import type { GripReading } from '$lib/hearing/stream';
import type { Hold } from '$lib/search/hold';
import { barAfter, shownAfter, type ShownBar, type ShownString } from './calm';
import type { GripEar } from './gripEar';
import { heardMore, type Take } from './take';

/** What was heard stays to be read for so long after it has died away. */
const LINGERS_MS = 4000;

/** What is held, and what it should sound. */
export interface HeldGrip {
  /** Tells where the bar lies; nothing where there is no bar, as at open strings that are tuned. */
  readonly hold?: Hold | undefined;
  readonly wanted: readonly WantedString[];
  readonly referenceHz: number;
}

export class GripListener {
  readonly ear: GripEar;
  #held: HeldGrip | undefined;
  #fades: ReturnType<typeof setTimeout> | undefined;

  state = $state<'off' | 'asking' | 'on'>('off');
  /** Why it does not listen, as a sentence. */
  problem = $state('');
  /** What disturbs, as a sentence. */
  hint = $state('');
  strings = $state.raw<readonly ShownString[]>([]);
  extra = $state.raw<readonly HeardForeign[]>([]);
  bar = $state.raw<ShownBar>();
  /** By string of the grip, since listening began. */
  take = $state.raw<Take>([]);
  /** Grips that were played since then, the finest reading of each. */
  played = $state.raw<readonly PlayedGrip[]>([]);
  /** When the last reading was made. */
  nowMs = $state(0);

  constructor(ear: GripEar) {
    this.ear = ear;
    ear.onreading = (reading) => this.#show(reading);
    ear.onplayed = (played) => {
      const before = this.played.filter(({ at }) => at !== played.at);
      this.played = [...before, played];
    };
    ear.ontrouble = (sentence) => (this.hint = sentence);
    ear.onlost = (sentence) => {
      this.stop();
      this.problem = sentence;
    };
  }

  /** What is held from now on; another grip begins another take. */
  hold(held: HeldGrip): void {
    this.#held = held;
    this.#begin();
    this.ear.listenFor({ hz: held.wanted.map(({ hz }) => hz), referenceHz: held.referenceHz });
  }

  async start(): Promise<void> {
    this.problem = '';
    this.state = 'asking';
    const opened = await this.ear.open();
    if (!opened.ok) {
      this.state = 'off';
      this.problem = opened.error;
      return;
    }
    // stopped while the player was asked
    if (!this.ear.isOpen) {
      this.state = 'off';
      return;
    }
    this.state = 'on';
    this.#begin();
  }

  stop(): void {
    this.ear.close();
    this.state = 'off';
    this.#clear();
  }

  #begin(): void {
    this.take = [];
    this.played = [];
    this.#clear();
  }

  #clear(): void {
    clearTimeout(this.#fades);
    this.hint = '';
    this.strings = [];
    this.extra = [];
    this.bar = undefined;
  }

  #show(reading: GripReading): void {
    const held = this.#held;
    if (held === undefined) return;
    const { heard } = reading;
    this.nowMs = performance.now();
    this.strings = shownAfter(this.strings, reading);
    this.extra = heard.extra;
    if (held.hold !== undefined)
      this.bar = barAfter(this.bar, heardBar(held.hold, held.wanted, heard));
    // what cannot be told apart counts for nobody
    const certain = heard.strings.map(({ certain, cents }) => (certain ? cents : undefined));
    this.take = heardMore(this.take, certain, this.nowMs);
    clearTimeout(this.#fades);
    this.#fades = setTimeout(() => this.#clear(), LINGERS_MS);
  }
}
