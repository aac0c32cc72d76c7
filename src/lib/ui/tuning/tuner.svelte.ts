/** The tuner: listens, names the nearest target, and steps on when a string is held in tune. */
import type { Setup } from '$lib/setup/setup';
import type { Microphone } from '$lib/sound/microphone';
import { detect, levelOf, type Heard } from '$lib/tuning/detect';
import { goTo, hear, startHold, type HoldState } from '$lib/tuning/hold';
import { centsFrom, nearestTarget, stepsOf } from '$lib/tuning/steps';
import type { Target } from '$lib/tuning/targets';

/** Twenty readings a second: a reading is never older than that. */
const EVERY_MS = 50;
/** So long a shown reading stays when the string has died away. */
const LINGERS_MS = 1500;
/** After so long without any sound the player is told. */
const SILENT_MS = 6000;
/** Farther off than this it is another string than the wanted one. */
const WANTED_WITHIN_CENTS = 250;
const AUDIBLE = 0.0005;
/** Hum that was heard is taken to be there still for so long, where a string hides it. */
const HUM_REMEMBERED_MS = 30_000;

export interface Shown {
  readonly target: Target;
  readonly cents: number;
  readonly hz: number;
  readonly also: readonly Target[];
  /** It is the step's own target, and not another string that was struck. */
  readonly wanted: boolean;
}

export class Tuner {
  readonly #microphone: Microphone;
  #timer: ReturnType<typeof setInterval> | undefined;
  #last: number[] = [];
  #heardAtMs = 0;
  #shownAtMs = 0;
  /** The mains that was last heard to hum, and when. */
  #hum: { readonly hz: 50 | 60; readonly atMs: number } | undefined;

  targets = $state.raw<readonly Target[]>([]);
  state = $state<'off' | 'asking' | 'on'>('off');
  /** Why it does not listen, as a sentence. */
  problem = $state<string | undefined>();
  shown = $state.raw<Shown | undefined>();
  /** What disturbs: silence, hum, or two notes at once; a sentence. */
  hint = $state('');
  hold = $state.raw<HoldState>(startHold());
  /** Steps through the targets in order; else any string is told. */
  stepping = $state(true);
  /** By step: tuned on this round. */
  done = $state.raw<readonly number[]>([]);

  readonly wanted = $derived(this.stepping ? this.targets[this.hold.step] : undefined);
  readonly finished = $derived(
    this.stepping && this.targets.length > 0 && this.hold.step >= this.targets.length,
  );

  constructor(microphone: Microphone) {
    this.#microphone = microphone;
    microphone.onlost = () => {
      this.stop();
      this.problem = 'The microphone went away. Press Listen to begin again.';
    };
  }

  /** Other targets, from a new plan or setup: the step stays the same where it can. */
  take(setup: Setup, targets: readonly Target[]): void {
    this.targets = stepsOf(setup, targets);
    if (this.hold.step > this.targets.length) this.hold = startHold();
  }

  async start(): Promise<void> {
    this.problem = undefined;
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
    this.state = 'on';
    this.hint = '';
    this.#heardAtMs = performance.now();
    if (this.finished) this.restart();
    this.#timer = setInterval(() => this.#listen(), EVERY_MS);
  }

  stop(): void {
    clearInterval(this.#timer);
    this.#microphone.close();
    this.state = 'off';
    this.shown = undefined;
    this.hint = '';
  }

  restart(): void {
    this.hold = startHold();
    this.done = [];
  }

  goTo(step: number): void {
    if (step < 0 || step > this.targets.length) return;
    this.hold = goTo(step);
    this.shown = undefined;
  }

  #listen(): void {
    const samples = this.#microphone.samples();
    if (samples === undefined) return;
    const atMs = performance.now();
    const { sampleRate } = this.#microphone;
    const level = levelOf(samples, sampleRate);
    // of octaves the wanted note decides; where none is, the one that was read before
    const heard = detect(samples, sampleRate, (this.wanted ?? this.shown?.target)?.hz);
    if (level > AUDIBLE) this.#heardAtMs = atMs;
    const clear =
      heard !== undefined && !heard.several && heard.alone !== true ? heard.hz : undefined;
    if (heard?.hum !== undefined) this.#hum = { hz: heard.hum, atMs };
    const humLies =
      heard?.masked !== undefined &&
      heard.masked === this.#hum?.hz &&
      atMs - this.#hum.atMs < HUM_REMEMBERED_MS;
    if (clear !== undefined) this.#show(clear, atMs);
    else if (atMs - this.#shownAtMs > LINGERS_MS) this.shown = undefined;
    this.hint = hintOf(heard, atMs - this.#heardAtMs, humLies);
    const { wanted } = this;
    if (wanted === undefined) return;
    // what hum lies on is shown, but tunes no string by itself
    const cents = clear === undefined || humLies ? undefined : centsFrom(wanted, clear);
    const before = this.hold.step;
    this.hold = hear(this.hold, { atMs, cents, level }, this.targets.length);
    if (this.hold.step !== before) this.done = [...this.done, before];
  }

  /** The middle of the last three readings of one note: a single slip is not shown. */
  #steady(hz: number): number {
    const [latest] = this.#last;
    if (latest !== undefined && Math.abs(1200 * Math.log2(hz / latest)) > 60) this.#last = [];
    this.#last = [hz, ...this.#last].slice(0, 3);
    return [...this.#last].sort((a, b) => a - b)[Math.floor((this.#last.length - 1) / 2)] ?? hz;
  }

  #show(hz: number, atMs: number): void {
    this.#shownAtMs = atMs;
    const { wanted } = this;
    const steady = this.#steady(hz);
    const off = wanted === undefined ? Infinity : Math.abs(centsFrom(wanted, steady));
    if (wanted !== undefined && off < WANTED_WITHIN_CENTS)
      this.shown = { target: wanted, cents: centsFrom(wanted, steady), hz, also: [], wanted: true };
    else {
      const nearest = nearestTarget(this.targets, steady, wanted);
      this.shown = nearest && { ...nearest, hz, wanted: wanted === undefined };
    }
  }
}

/** What disturbs, as a sentence; `silentMs` is since when nothing sounds, `humLies` on the string’s own partials. */
function hintOf(heard: Heard | undefined, silentMs: number, humLies: boolean): string {
  if (heard?.alone)
    return `Hum at ${heard.hum} Hz, and no string. Turn away from lamps and power supplies, or turn down.`;
  if (heard?.several) return 'More than one string sounds. Damp the others.';
  if (humLies && heard?.several === false)
    return `Hum at ${heard.masked} Hz lies on this string: the reading can be two cents off. Turn away from lamps and power supplies, or go on by hand.`;
  if (heard?.hum !== undefined) return `Hum at ${heard.hum} Hz: it is taken out of the reading.`;
  return silentMs > SILENT_MS
    ? 'Nothing is heard. Is this the right microphone, is it turned up, is it near the amplifier?'
    : '';
}
