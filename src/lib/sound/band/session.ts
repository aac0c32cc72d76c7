/**
 * One playing of strings and band on one clock. The transport of `tone` says when which part of the piece
 * sounds; strings and band are handed over for the same moments of the audio context.
 *
 * Places are in seconds at the written tempo, which go by `speed` times as fast. The transport counts them, a
 * beat of its own each, from the beginning to the end of the playing: rounds follow one another without a jump,
 * so that none begins earlier or later than the ones before it have lasted.
 */
import type { BandNote } from '$lib/playing/band/band';
import { LEVELLED, type Levels } from '$lib/playing/band/levels';
import type { Action } from '$lib/rendering/actions';
import type { Along } from '../voice';
import { clockOn, lookAhead, type Clock } from './clock';
import { BandInstruments } from './instruments';

/** What is played once through; its times are places in seconds at the written tempo. */
export interface Round {
  readonly length: number;
  /** In order of time. */
  readonly actions: readonly Action[];
  /** What the band plays now, in order of time; asked again where the player has changed it. */
  readonly band: () => readonly BandNote[];
  /** The speed from here on, where it changes. */
  readonly speed?: number;
}

/** What is to be played. */
export interface Playing {
  readonly along: Along;
  /** That of the playing before, which serves again on the same context. */
  readonly clock?: Clock | undefined;
  readonly referenceHz: number;
  /** The round of a number, from 0, which begins at a speed; none after the last. */
  readonly round: (number: number, speed: number) => Round | undefined;
  /** Times the written tempo. */
  readonly speed: number;
  readonly levels: Levels;
  /** MIDI numbers that sound throughout. */
  readonly drone: readonly number[];
  /** A round begins to be handed over, at a speed. */
  readonly onround?: (number: number, speed: number) => void;
}

/** What is heard at a moment. */
export interface Heard {
  /** The number of the round. */
  readonly round: number;
  /** Its place in it, in seconds at the written tempo. */
  readonly at: number;
}

/** Ticks of the transport a beat, as the library has them, and of one hand-over: a sixteenth of a beat. */
const TICKS = 192;
const WINDOW_TICKS = 12;
const WINDOW = WINDOW_TICKS / TICKS;
/** Seconds from the press to the first sound beyond what is handed over ahead. */
const BEGINS = 0.07;
/**
 * Seconds ahead of its sound that the first window must be handed over; later, all of it begins later. The first
 * stroke of each instrument takes long to make on a busy device, and the library would sound it late, off its place.
 */
const IN_TIME = 0.1;
/** What of the strings is later than this (s) when it is handed over would sound off its place, and is left out. */
const TOO_LATE = 0.004;
/**
 * Seconds that the library may take, on a busy device, to make a sound of the band. It sounds what is due sooner when
 * it is made, off its place: that is left out as well.
 */
const MAKING = 0.04;
/** Seconds for which strings may ring after the last round. */
const RINGS = 2;

interface Mark extends Heard {
  readonly time: number;
  readonly speed: number;
}

/** Strings and band while they play. */
export class Session {
  readonly #playing: Playing;
  readonly #clock: Clock;
  readonly #band: BandInstruments;
  readonly #repeat: number;
  #windows = 0;
  #number = -1;
  #round: Round | undefined;
  #notes: readonly BandNote[] = [];
  /** What comes next of the round's actions and of the band's notes. */
  #nextAction = 0;
  #nextNote = 0;
  /** Where the round begins, among all places. */
  #begins = 0;
  /** Up to where in the round has been handed over. */
  #handed = 0;
  #marks: Mark[] = [];
  #endsAt = Infinity;
  #over = false;
  /** When what has been handed over ends, in seconds of the context. */
  #handedUntil = 0;
  /** Seconds by which everything sounds later than the transport says. */
  #later = 0;

  constructor(playing: Playing) {
    this.#playing = playing;
    const { along, clock, referenceHz, levels, drone, speed } = playing;
    this.#clock = clockOn(along.context, clock);
    const { tone, transport } = this.#clock;
    this.#band = new BandInstruments(tone, referenceHz, levels);
    along.join(this.#band.output);
    this.#band.drone(drone);
    this.#next(speed);
    transport.stop(tone.immediate());
    transport.cancel();
    transport.bpm.cancelScheduledValues(0);
    transport.bpm.setValueAtTime(60 * (this.#round?.speed ?? speed), tone.immediate());
    this.#repeat = transport.scheduleRepeat((time) => this.#handOver(time), `${WINDOW_TICKS}i`, 0);
    transport.start(tone.now() + BEGINS, 0);
  }

  /** For the next playing. */
  get clock(): Clock {
    return this.#clock;
  }

  /** Times the written tempo, from what is not yet handed over on. */
  setSpeed(speed: number): void {
    const { tone, transport } = this.#clock;
    const from = Math.max(tone.now(), this.#handedUntil - this.#later);
    transport.bpm.setValueAtTime(60 * speed, from);
  }

  setLevels(levels: Levels): void {
    for (const part of LEVELLED) this.#band.setLevel(part, levels[part]);
  }

  drone(pitches: readonly number[]): void {
    this.#band.drone(pitches);
  }

  /** The band plays something else, from what is not yet handed over on. */
  changeBand(): void {
    this.#notes = this.#round?.band() ?? [];
    this.#nextNote = this.#notes.findIndex(({ at }) => at >= this.#handed);
    if (this.#nextNote < 0) this.#nextNote = this.#notes.length;
  }

  /** What is heard now; nothing before the beginning, and `over` when all has ended. */
  heard(): Heard | 'over' | undefined {
    const { context } = this.#playing.along;
    const now = context.currentTime - (context.outputLatency || context.baseLatency || 0);
    if (this.#over || now > this.#endsAt + RINGS) return 'over';
    const index = this.#marks.findLastIndex(({ time }) => time <= now);
    const mark = this.#marks[index];
    if (mark === undefined) return undefined;
    this.#marks = this.#marks.slice(index);
    return { round: mark.round, at: mark.at + (now - mark.time) * mark.speed };
  }

  /** Hands over nothing more, and fades the band; the strings are the voice's to damp. */
  end(): void {
    if (this.#over) return;
    this.#over = true;
    const { tone, transport } = this.#clock;
    transport.clear(this.#repeat);
    transport.stop(tone.immediate());
    lookAhead(this.#clock, 'starting');
    this.#band.end();
  }

  /** Takes up the next round; false where there is none. */
  #next(speed: number): boolean {
    this.#begins += this.#round?.length ?? 0;
    this.#round = this.#playing.round(++this.#number, speed);
    this.#nextAction = 0;
    this.#nextNote = 0;
    this.#handed = 0;
    this.#notes = this.#round?.band() ?? [];
    // what lasts no time would never end
    if (this.#round === undefined || this.#round.length < WINDOW / TICKS) {
      this.#round = undefined;
      return false;
    }
    this.#playing.onround?.(this.#number, this.#round.speed ?? speed);
    return true;
  }

  /** The first window: from now on the clock looks farther ahead, and what came late begins later. */
  #start(ticked: number): void {
    lookAhead(this.#clock, 'playing');
    const { currentTime } = this.#playing.along.context;
    this.#later = Math.max(0, currentTime + IN_TIME - ticked);
  }

  /** Hands over what lies within a window of places that begins to sound at a time. */
  #handOver(ticked: number): void {
    if (this.#over || this.#endsAt < Infinity) return;
    const { transport } = this.#clock;
    if (this.#windows === 0) this.#start(ticked);
    let speed = transport.bpm.getValueAtTime(ticked) / 60;
    let time = ticked + this.#later;
    let place = this.#windows++ * WINDOW;
    const until = place + WINDOW;
    const actions: Action[] = [];
    while (this.#round !== undefined && place < until) {
      const ends = this.#begins + this.#round.length;
      const to = Math.min(until, ends);
      const at = place - this.#begins;
      this.#marks.push({ round: this.#number, at, time, speed });
      const round = this.#round;
      this.#handed = to < ends ? to - this.#begins : round.length;
      this.#collect({ round, at, time, speed }, actions);
      time += (to - place) / speed;
      place = to;
      if (to < ends) break;
      const rest = round.actions.slice(this.#nextAction);
      if (!this.#next(speed)) {
        // strings ring on, and are damped when their time has come
        this.#endsAt = time;
        for (const action of rest)
          actions.push({ ...action, at: time + (action.at - round.length) / speed });
        break;
      }
      // what rings is damped where the next round begins
      for (const action of rest) if (action.does === 'damp') actions.push({ ...action, at: time });
      const changed = this.#round.speed;
      if (changed !== undefined && changed !== speed) {
        speed = changed;
        transport.bpm.setValueAtTime(60 * speed, time - this.#later);
      }
    }
    this.#handedUntil = time;
    if (actions.length > 0) this.#playing.along.add(actions);
  }

  /** What of a round lies before what is handed over next: strings into a list, the band to its instruments. */
  #collect(
    { round, at, time, speed }: Omit<Mark, 'round'> & { round: Round },
    actions: Action[],
  ): void {
    const when = (place: number): number => time + (place - at) / speed;
    const { context } = this.#playing.along;
    for (let action = round.actions[this.#nextAction]; action !== undefined;) {
      if (action.at >= this.#handed) break;
      const due = when(action.at);
      if (action.does !== 'strike' || due > context.currentTime - TOO_LATE)
        actions.push({
          ...action,
          at: due,
          ...('over' in action ? { over: action.over / speed } : {}),
        });
      action = round.actions[++this.#nextAction];
    }
    for (let note = this.#notes[this.#nextNote]; note !== undefined;) {
      if (note.at >= this.#handed) break;
      const due = when(note.at);
      if (due > context.currentTime + MAKING) this.#band.play(note, due, note.lasts / speed);
      note = this.#notes[++this.#nextNote];
    }
  }
}
