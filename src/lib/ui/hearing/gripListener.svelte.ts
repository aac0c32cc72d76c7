/** Listens to a grip that is held, and says what is shown: strings, cents, the bar, and the take as a whole. */
import { heardBar, type WantedString } from '$lib/answers/heardHold';
import type { HeardForeign } from '$lib/hearing/hear';
import type { PlayedGrip } from '$lib/hearing/playedGrip';
import type { GripReading } from '$lib/hearing/stream';
import type { Hold } from '$lib/search/hold';
import { barAfter, shownAfter, type ShownBar, type ShownString } from './calm';
import type { GripEar } from './gripEar';
import { heardMore, totalsMore, type Take, type Totals } from './take';

/** What was heard stays to be read for so long after it has died away. */
const LINGERS_MS = 4000;
/** So many grips are remembered as played. */
const MOST_PLAYED = 2000;
/** Nothing was heard of any string. */
const NOTHING: Totals = new Map();

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
  /** By string of the present chord, since it was asked. */
  take = $state.raw<Take>([]);
  /** By string number over all chords since listening began, and how many chords of them were heard. */
  totals = $state.raw<Totals>(NOTHING);
  chords = $state(0);
  /** The present chord is counted among them. */
  #counted = false;
  /** Grips that were played since listening began, the finest reading of each. */
  played = $state.raw<readonly PlayedGrip[]>([]);
  /** When the last reading was made. */
  nowMs = $state(0);

  constructor(ear: GripEar) {
    this.ear = ear;
    ear.onreading = (reading) => this.#show(reading);
    ear.onplayed = (played) => {
      const before = this.played.filter(({ at }) => at !== played.at);
      this.played = [...before.slice(-MOST_PLAYED), played];
    };
    ear.ontrouble = (sentence) => (this.hint = sentence);
    ear.onlost = (sentence) => {
      this.stop();
      this.problem = sentence;
    };
  }

  /** What is held from now on: its own take begins, and the whole goes on, unless it lies on another neck. */
  hold(held: HeldGrip): void {
    const neck = this.#held?.hold?.neck;
    this.#held = held;
    if (neck !== held.hold?.neck) this.#begin();
    this.take = [];
    this.#counted = false;
    this.#clear();
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
    this.totals = NOTHING;
    this.chords = 0;
    this.#counted = false;
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
    const strings = held.wanted.map(({ string }) => string);
    this.totals = totalsMore(this.totals, strings, certain);
    if (!this.#counted && certain.some((each) => each !== undefined)) {
      this.#counted = true;
      this.chords++;
    }
    clearTimeout(this.#fades);
    this.#fades = setTimeout(() => this.#clear(), LINGERS_MS);
  }
}
