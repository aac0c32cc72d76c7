/**
 * The whole instrument: strings, pickup, volume pedal, amplifier, body, room, limiter. The audio
 * thread, the offline renderer and the tests all run this.
 */
import { RIG, actionsBent, type Action, type Rig, type Target } from '../actions';
import { Biquad } from './biquad';
import { Limiter } from './limiter';
import { PEDAL_RESTS } from '$lib/playing/pedal';
import type { Mover } from '$lib/playing/schedule';
import { usualFall } from '$lib/strings/sustain';
import { Moving } from './motion';
import { DAMPED, PlayedString } from './playedString';
import { Reverb } from './reverb';

/** Samples between two looks at what hands and feet do: a third of a millisecond. */
export const STEP = 16;
/** Fourteen strings, and the bass at 0. */
const STRINGS = 15;
/** A moderate start: a chord of six strings stays clear of the limiter. */
const LEVEL = 0.2;
/** Shortest way of the volume pedal, so that it does not click (s). */
const PEDAL_MIN = 0.008;
/** Where a magnetic pickup and its cable resonate, and how sharply. */
const PICKUP = { hz: 4200, q: 1.1 } as const;
/** What the body lifts: hertz, sharpness, decibels. */
const BODY = [
  [118, 0.9, 2.5],
  [430, 1.1, 1.5],
  [1900, 1.2, 2],
] as const;
/** How far the amplifier is driven, and its level thereafter. */
const DRIVE = { in: 2.4, out: 0.52 } as const;
/** How much of the room is at most. */
const ROOM = 0.3;
/** Seconds for which the room is heard after the last string. */
const ROOM_RINGS = 2.5;

/** Does actions at their times, and gives what is heard of them. */
export class PlayedInstrument {
  readonly #rate: number;
  readonly #strings: readonly PlayedString[];
  readonly #pickup: Biquad;
  readonly #speaker: Biquad;
  readonly #body: readonly Biquad[];
  readonly #low: Biquad;
  readonly #reverb: Reverb;
  readonly #limiter: Limiter;
  readonly #sum = new Float32Array(STEP);
  readonly #scratch = new Float32Array(STEP);
  readonly #right = new Float32Array(STEP);
  readonly #pedal = new Moving(PEDAL_RESTS);
  readonly #vibrato = new Moving(0);
  #vibratoHz = 5;
  #vibratoPhase = 0;
  #pedalIs: number = PEDAL_RESTS;
  /** Until when it has been rendered (s). */
  #now = 0;
  #rig: Rig = RIG;
  #actions: Action[] = [];
  /** Samples for which nothing has rung. */
  #still = Infinity;

  constructor(sampleRate: number) {
    this.#rate = sampleRate;
    this.#strings = Array.from({ length: STRINGS }, () => new PlayedString(sampleRate));
    this.#pickup = Biquad.lowpass(sampleRate, PICKUP.hz, PICKUP.q);
    this.#speaker = Biquad.lowpass(sampleRate, 5200, 0.7);
    this.#body = BODY.map(([hz, q, db]) => Biquad.peak(sampleRate, hz, q, db));
    this.#low = Biquad.highpass(sampleRate, 28, 0.7);
    this.#reverb = new Reverb(sampleRate);
    this.#limiter = new Limiter(sampleRate);
  }

  /** Whether any string rings. */
  get ringing(): boolean {
    return this.#strings.some((string) => string.ringing);
  }

  /** How many actions wait for their time. */
  get waiting(): number {
    return this.#actions.length;
  }

  /** Takes actions, in order of time and counted from `from`, in place of those that wait; what rings is damped. */
  play(actions: readonly Action[], from = 0): void {
    this.stop();
    this.#actions = actions.map((action) => ({ ...action, at: from + action.at }));
  }

  /** Takes actions along with those that wait, in order of time; what rings goes on. */
  add(actions: readonly Action[]): void {
    this.#actions = [...this.#actions, ...actions].sort((a, b) => a.at - b.at);
  }

  /** Damps everything, and forgets what was to come; the foot comes back meanwhile. */
  stop(): void {
    this.#actions = [];
    if (!this.ringing) this.#pedalIs = PEDAL_RESTS;
    this.#pedal.go(PEDAL_RESTS, this.#now, this.ringing ? DAMPED : 0);
    for (const string of this.#strings) string.damp();
  }

  /**
   * Hands and feet move now: strings that ring glide, those that wait to be struck will sound so. A
   * string that is not struck again rings on for at least `hold` seconds, so that the move is heard.
   */
  bend(to: readonly Target[], time: number, over: number, by: Mover, hold = 0): void {
    for (const { string, hz } of to) this.#strings[string]?.glide(hz, time, over, by);
    this.#actions = actionsBent(this.#actions, to, time, hold);
  }

  #do(action: Action, time: number): void {
    switch (action.does) {
      case 'rig':
        this.#rig = action.rig;
        break;
      case 'strike': {
        const { string, hz, level, harmonic, falls = usualFall(hz) } = action;
        const { timbre } = this.#rig;
        this.#strings[string]?.strike({ hz, level, harmonic, falls, timbre }, time);
        break;
      }
      case 'glide':
        this.#strings[action.string]?.glide(action.hz, time, action.over, action.by);
        break;
      case 'damp':
        this.#strings[action.string]?.damp();
        break;
      case 'pedal':
        this.#pedal.go(action.to, time, Math.max(PEDAL_MIN, action.over), action.evenly);
        break;
      case 'vibrato':
        this.#vibratoHz = action.hz;
        this.#vibrato.go(action.cents, time, action.over);
        break;
    }
  }

  /**
   * Renders the next samples, of which the first sounds at `time` (s). Their number is a multiple of STEP.
   *
   * @param beside two channels that sound beside the strings, before the limiter: the rhythm section
   */
  process(
    left: Float32Array,
    right: Float32Array,
    time: number,
    beside?: readonly Float32Array[],
  ): void {
    for (let from = 0; from < left.length; from += STEP)
      this.#step(left, right, from, time + from / this.#rate, beside);
  }

  #step(
    left: Float32Array,
    right: Float32Array,
    from: number,
    time: number,
    beside: readonly Float32Array[] | undefined,
  ): void {
    // half a sample of grace, for times that were computed in another way
    const due = time + 0.5 / this.#rate;
    while (this.#actions.length > 0 && (this.#actions[0] as Action).at <= due)
      this.#do(this.#actions.shift() as Action, time);
    const end = time + STEP / this.#rate;
    this.#now = end;
    const sum = this.#sum.fill(0);
    const bend = this.#bendAt(end);
    let ringing = false;
    for (const string of this.#strings) {
      if (!string.ringing) continue;
      ringing = true;
      string.render(sum, this.#scratch, STEP, end, bend);
    }
    this.#still = ringing ? 0 : this.#still + STEP;
    if (this.#still > ROOM_RINGS * this.#rate) this.#rest(end);
    else this.#colour(end);
    const [one, other = one] = beside ?? [];
    // the limiter forgets nothing while it hears nothing
    if (one === undefined && this.#still === Infinity) {
      left.fill(0, from, from + STEP);
      right.fill(0, from, from + STEP);
      return;
    }
    if (one !== undefined && other !== undefined)
      for (let i = 0; i < STEP; i++) {
        sum[i] = (sum[i] as number) + (one[from + i] as number);
        this.#right[i] = (this.#right[i] as number) + (other[from + i] as number);
      }
    this.#limiter.process(sum, this.#right, STEP);
    left.set(sum, from);
    right.set(this.#right, from);
  }

  /** Nothing sounds: the filters forget their last faint values, and cost nothing. */
  #rest(end: number): void {
    this.#pedalIs = this.#pedal.valueAt(end);
    if (this.#still < Infinity) {
      for (const filter of [this.#pickup, this.#speaker, this.#low, ...this.#body]) filter.clear();
      this.#reverb.clear();
      this.#still = Infinity;
    }
    this.#sum.fill(0);
    this.#right.fill(0);
  }

  #bendAt(time: number): number {
    const cents = this.#vibrato.valueAt(time);
    if (cents === 0) {
      this.#vibratoPhase = 0;
      return 1;
    }
    this.#vibratoPhase = (this.#vibratoPhase + (this.#vibratoHz * STEP) / this.#rate) % 1;
    return 2 ** ((cents * Math.sin(2 * Math.PI * this.#vibratoPhase)) / 1200);
  }

  #colour(end: number): void {
    const sum = this.#sum;
    const { amplifier, timbre } = this.#rig;
    const room = ROOM * this.#rig.room * (timbre === 'plain' ? 0.4 : 1);
    const pedal = this.#pedal.valueAt(end);
    const pedalStep = (pedal - this.#pedalIs) / STEP;
    for (let i = 0; i < STEP; i++) {
      // strings are struck with the pedal at rest, and have their level there
      let x = ((sum[i] as number) * (this.#pedalIs + pedalStep * (i + 1))) / PEDAL_RESTS;
      if (timbre === 'string') {
        x = this.#pickup.next(x);
        if (amplifier) x = this.#speaker.next(DRIVE.out * driven(DRIVE.in * x));
        for (const filter of this.#body) x = filter.next(x);
      }
      x = LEVEL * this.#low.next(x);
      this.#reverb.next(x);
      sum[i] = x + room * this.#reverb.left;
      this.#right[i] = x + room * this.#reverb.right;
    }
    this.#pedalIs = pedal;
  }
}

/**
 * A soft curve with a flat end. It is a cubic, so that it makes nothing above three times what comes
 * in, and what the pickup lets through does not fold back from half the sampling rate.
 */
function driven(x: number): number {
  if (x >= 1.5) return 1;
  if (x <= -1.5) return -1;
  return x - (4 / 27) * x * x * x;
}
