/**
 * What hands and feet do, as the messages that an instrument outside is played by: one channel a string, bends
 * as the strings bend (`playing/mpe.ts`). It does the same actions as our own instrument, and like it is asked
 * piece by piece how the time goes on, because hands may move meanwhile. The foot that follows fading strings
 * is left out, since strings elsewhere fade in their own way; a swell is sent as expression.
 */
import {
  MASTER,
  MOST_STRINGS,
  bendOf,
  bendRange,
  channelsOf,
  velocityOf,
  zone,
} from '$lib/playing/mpe';
import { PEDAL_RESTS } from '$lib/playing/pedal';
import { BASS, type Mover } from '$lib/playing/schedule';
import { actionsBent, type Action, type Target } from './actions';
import { Moving, between } from './dsp/motion';

/** A message of MIDI 1.0, and when it is due: seconds, as the actions have them. */
export interface TimedMessage {
  readonly at: number;
  readonly bytes: readonly number[];
}

/** Semitones that the bend wheel reaches each way: what a member of a zone has from the start (MPE 1.0). */
export const BEND_RANGE = 48;
/** Seconds between the steps of a bend: below what is heard as steps. */
const BEND_STEP = 0.008;
const SWELL_STEP = 0.02;
/** Fourteen strings, and the bass behind them. */
const CHANNELS = channelsOf([...Array.from({ length: MOST_STRINGS - 1 }, (_, at) => at + 1), BASS]);

const controls = (channel: number, changes: readonly (readonly [number, number])[]): number[][] =>
  changes.map(([controller, value]) => [0xb0 | channel, controller, value]);

/** What is said once, before anything is played: the zone, and how far its channels bend. */
export const SETTING_UP: readonly (readonly number[])[] = [
  ...controls(MASTER, zone(MOST_STRINGS)),
  ...[...CHANNELS.values()].flatMap((channel) => controls(channel, bendRange(BEND_RANGE))),
];

/** Everything falls silent, whatever was sent before: all notes off, the wheel in the middle, expression open. */
export const SILENCE: readonly (readonly number[])[] = [
  ...[...CHANNELS.values()].flatMap((channel) => [
    [0xb0 | channel, 123, 0],
    [0xe0 | channel, 0, 64],
  ]),
  [0xb0 | MASTER, 123, 0],
  [0xb0 | MASTER, 11, 127],
];

/** In equal temperament over A = 440 Hz, which is what MIDI's keys are. */
const midiOf = (hz: number): number => 69 + 12 * Math.log2(hz / 440);

interface Ringing {
  readonly channel: number;
  readonly key: number;
  /** 2 where the palm makes its octave sound. */
  readonly times: number;
  from: number;
  to: number;
  at: number;
  over: number;
  by: Mover;
  /** When its bend is looked at next. */
  next: number;
  /** As the wheel was sent last. */
  bend: number;
}

/** Does actions, and gives the messages of each stretch of time when it is asked. */
export class MpeStrings {
  readonly #ringing = new Map<number, Ringing>();
  #actions: Action[] = [];
  #messages: TimedMessage[] = [];
  readonly #vibrato = new Moving(0);
  #vibratoHz = 5;
  #vibratoFrom = 0;
  readonly #pedal = new Moving(PEDAL_RESTS);
  #pedalEnds = 0;
  #pedalNext = Infinity;
  #expression = 127;
  /** Until when all has been given. */
  #given = -Infinity;

  /** Whether anything rings or waits. */
  get isBusy(): boolean {
    return this.#ringing.size > 0 || this.#actions.length > 0 || this.#messages.length > 0;
  }

  /** Until when messages have been given (s); what is asked for earlier than that comes then. */
  get given(): number {
    return this.#given;
  }

  /**
   * Takes actions, in order of time and counted from `from`, in place of those that wait; what rings is damped.
   *
   * @param now when that is asked for
   */
  play(actions: readonly Action[], from: number, now: number): void {
    this.stop(now);
    // what an earlier clock counted to says nothing of this one
    this.#given = Math.min(this.#given, now);
    this.#actions = actions.map((action) => ({ ...action, at: from + action.at }));
  }

  /** Takes actions along with those that wait; what should have begun begins now. */
  add(actions: readonly Action[]): void {
    const late = (at: number): number => Math.max(at, this.#given);
    const added = actions.map((action) => ({ ...action, at: late(action.at) }));
    this.#actions = [...this.#actions, ...added].sort((a, b) => a.at - b.at);
  }

  /** Damps everything, and forgets what was to come; what was given ahead of its time is damped then too. */
  stop(now: number): void {
    this.#actions = [];
    this.#pedalNext = Infinity;
    for (const [string, { channel, key }] of [...this.#ringing]) {
      this.#damp(string, now);
      if (this.#given > now) this.#send(this.#given, 0x80 | channel, key, 0);
    }
  }

  /** Hands and feet move now, as `PlayedInstrument` has it. */
  bend(to: readonly Target[], now: number, over: number, by: Mover, hold: number): void {
    const time = Math.max(now, this.#given);
    for (const { string, hz } of to) this.#glide(string, hz, time, over, by);
    this.#actions = actionsBent(this.#actions, to, time, hold);
  }

  /** The messages up to a time, in order, each given once. */
  until(time: number): readonly TimedMessage[] {
    for (;;) {
      const [action] = this.#actions;
      const [moving] = [...this.#ringing.values()].sort((a, b) => a.next - b.next);
      const acts = action?.at ?? Infinity;
      const bends = moving?.next ?? Infinity;
      const next = Math.min(acts, bends, this.#pedalNext);
      if (next > time || next === Infinity) break;
      if (action !== undefined && next === acts) {
        this.#actions.shift();
        this.#do(action);
      } else if (moving !== undefined && next === bends) this.#step(moving, next);
      else this.#swell(next);
    }
    this.#given = Math.max(this.#given, time);
    const due = this.#messages.sort((a, b) => a.at - b.at);
    this.#messages = [];
    return due;
  }

  #send(at: number, ...bytes: number[]): void {
    this.#messages.push({ at, bytes });
  }

  #do(action: Action): void {
    const { at } = action;
    switch (action.does) {
      case 'strike':
        this.#strike(action);
        break;
      case 'glide':
        this.#glide(action.string, action.hz, at, action.over, action.by);
        break;
      case 'damp':
        this.#damp(action.string, at);
        break;
      case 'vibrato':
        this.#vibrato.go(action.cents, at, action.over);
        this.#vibratoHz = action.hz;
        if (action.cents !== 0) this.#vibratoFrom = at;
        for (const each of this.#ringing.values()) each.next = Math.min(each.next, at + BEND_STEP);
        break;
      case 'pedal':
        if (action.evenly === true) break;
        this.#pedal.go(action.to, at, action.over);
        this.#pedalEnds = at + action.over;
        this.#swell(at);
        break;
      case 'rig':
        break;
    }
  }

  #strike({ string, hz, level, harmonic, at }: Action & { readonly does: 'strike' }): void {
    const channel = CHANNELS.get(string);
    if (channel === undefined) return;
    this.#damp(string, at);
    const times = harmonic ? 2 : 1;
    const key = Math.max(0, Math.min(127, Math.round(midiOf(hz * times))));
    const next = this.#isRolled(at) ? at + BEND_STEP : Infinity;
    const one: Ringing = {
      ...{ channel, key, times, from: hz, to: hz, at, over: 0, by: 'pull', next },
      bend: NaN,
    };
    this.#ringing.set(string, one);
    this.#wheel(one, at);
    this.#send(at, 0x90 | channel, key, velocityOf(level));
  }

  #damp(string: number, at: number): void {
    const one = this.#ringing.get(string);
    if (one === undefined) return;
    this.#ringing.delete(string);
    this.#send(at, 0x80 | one.channel, one.key, 0);
  }

  #glide(string: number, hz: number, at: number, over: number, by: Mover): void {
    const one = this.#ringing.get(string);
    if (one === undefined) return;
    const from = this.#hzAt(one, at);
    Object.assign(one, { from, to: hz, at, over, by, next: at + Math.min(BEND_STEP, over) });
  }

  #hzAt({ from, to, at, over, by }: Ringing, time: number): number {
    return time >= at + over ? to : between(from, to, (time - at) / over, by);
  }

  /** The bar is rolled at this time, or begins to be. */
  #isRolled(time: number): boolean {
    return this.#vibrato.valueAt(time) !== 0 || this.#vibrato.valueAt(Infinity) !== 0;
  }

  #step(one: Ringing, time: number): void {
    this.#wheel(one, time);
    const end = one.at + one.over;
    if (time < end) one.next = Math.min(time + BEND_STEP, end);
    else one.next = this.#isRolled(time) ? time + BEND_STEP : Infinity;
  }

  /** Sends the wheel where it stands otherwise than before. */
  #wheel(one: Ringing, time: number): void {
    const phase = 2 * Math.PI * this.#vibratoHz * Math.max(0, time - this.#vibratoFrom);
    const rolled = (this.#vibrato.valueAt(time) * Math.sin(phase)) / 100;
    const bend = bendOf(midiOf(this.#hzAt(one, time) * one.times) + rolled - one.key, BEND_RANGE);
    if (bend === one.bend) return;
    one.bend = bend;
    this.#send(time, 0xe0 | one.channel, (bend + 8192) & 0x7f, (bend + 8192) >> 7);
  }

  /** The foot as it stands; loudness goes with the square of expression (General MIDI 1). */
  #swell(time: number): void {
    const open = Math.max(0, Math.min(1, this.#pedal.valueAt(time) / PEDAL_RESTS));
    const expression = Math.round(127 * Math.sqrt(open));
    if (expression !== this.#expression) this.#send(time, 0xb0 | MASTER, 11, expression);
    this.#expression = expression;
    this.#pedalNext =
      time < this.#pedalEnds ? Math.min(time + SWELL_STEP, this.#pedalEnds) : Infinity;
  }
}
