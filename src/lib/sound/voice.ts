/**
 * What the rest of the program knows of sound: play these notes, bend what rings, stop. One output is opened, woken,
 * played on and put to sleep here, and each of these hangs on what the others left: that is one thing, in one file.
 */
import { ok, refuse, type Result } from '$lib/result';
import { hzOf } from '$lib/theory/pitch';
import { actionsOf, type Action, type Expression, type Rig } from '$lib/rendering/actions';
import type { Mover } from '$lib/playing/schedule';
import {
  BASS,
  BEND_SECONDS,
  RINGS,
  heldOn,
  lengthOf,
  type PickedPitch,
  type ScheduledNote,
} from '$lib/playing/schedule';
import { NO_ANSWER, isAnswered } from './answering';
import type { AudioOutput } from './audioOutput';
import type { Message } from './messages';
import { plugged } from './receiver';

export interface Voice {
  /** Plays notes from now on, instead of what sounds; refused with a sentence where there is no sound. */
  play(notes: readonly ScheduledNote[], options: Expression): Promise<Result<undefined, string>>;
  /**
   * Stops what sounds and opens the sound for what is handed over bit by bit, at times of its clock; refused
   * with a sentence where there is no sound.
   *
   * @param onended something else is played, or all is stopped
   * @returns nothing where that has happened while the sound was being fetched
   */
  along(onended: () => void): Promise<Result<Along | undefined, string>>;
  /**
   * Hands and feet move while something sounds: strings that ring glide to other pitches, those that
   * wait for their stroke will sound so. Nothing happens where nothing sounds.
   */
  bend(to: readonly PickedPitch[], how?: { readonly over?: number; readonly by?: Mover }): void;
  /** Damps everything. */
  stop(): void;
  /** 0 to 1, as a slider stands. */
  setLevel(level: number): void;
  /** What the strings are played through from the next play on. */
  setRig(rig: Rig): void;
  /** Seconds since the start of what plays; `undefined` when nothing does. */
  elapsed(): number | undefined;
  dispose(): void;
  /** Called when strings begin or cease to sound, with those that do. */
  onsounding: ((strings: ReadonlySet<number>) => void) | undefined;
}

/** The sound while something is handed over bit by bit. */
export interface Along {
  readonly context: AudioContext;
  /** What plays notes, in seconds from the first of them. */
  actionsOf(notes: readonly ScheduledNote[], referenceHz: number): Action[];
  /** Actions at times of the context. */
  add(actions: readonly Action[]): void;
  /** What else is to be heard, behind the same limiter and volume, until it is disconnected. */
  join(node: AudioNode): void;
}

const NOTHING: ReadonlySet<number> = new Set();
/** A device that has just answered is not asked once more with every press. */
const STILL_THERE_MS = 3000;
/** Seconds from damping to striking: the strings are blocked between two grips. */
const BLOCKED = 0.04;
/** A context that has been silent for so long is put to sleep, which spares the battery. */
const IDLE_MS = 20_000;

/** Where a slider stands that nobody has touched: half of the sound's amplitude is left. */
export const MODERATE = 0.7;

/** The ear counts in ratios: with the square a slider's steps sound about alike. */
const gainOf = (level: number): number => Math.max(0, Math.min(1, level)) ** 2;

/** What plays: its notes, when they began, when all is damped (s of the context), and the reference. */
interface Playing {
  readonly notes: readonly ScheduledNote[];
  readonly from: number;
  readonly until: number;
  readonly referenceHz: number;
}

export function createVoice(): Voice {
  let output: AudioOutput | undefined;
  let opening: Promise<AudioOutput> | undefined;
  let level = MODERATE;
  let rig: Rig | undefined;
  let playing: Playing | undefined;
  let plays = 0;
  /** Who hands over bit by bit is told when that is over. */
  let endAlong: (() => void) | undefined;
  /** When a device answered last, in milliseconds of the page. */
  let answeredMs = -Infinity;
  let disposed = false;
  let timers: ReturnType<typeof setTimeout>[] = [];

  /** An output is opened once, in the gesture that wants sound first. */
  async function open(): Promise<AudioOutput> {
    const { openAudioOutput } = await import('./audioOutput');
    output = await openAudioOutput();
    output.setLevel(gainOf(level));
    return output;
  }

  async function wake(): Promise<Result<AudioOutput, string>> {
    try {
      opening ??= open();
      const opened = await opening;
      const { context } = opened;
      if (context.state !== 'running') {
        context.resume().catch(() => undefined);
        if (!(await isAnswered(context))) return unanswered();
      }
      return ok(opened);
    } catch (error) {
      // the next press tries anew
      if (output === undefined) opening = undefined;
      return refuse(noSound(error));
    }
  }

  /** Nothing is heard, so nothing plays; the next press tries anew. */
  function unanswered(): Result<never, string> {
    forget();
    hush();
    sleep();
    opening = undefined;
    playing = undefined;
    answeredMs = -Infinity;
    voice.onsounding?.(NOTHING);
    return refuse(NO_ANSWER);
  }

  /** All that plays is damped. */
  function hush(): void {
    if (output !== undefined) tell(output, { say: 'stop' });
  }

  function leaveAlong(): void {
    const told = endAlong;
    endAlong = undefined;
    told?.();
  }

  /** To our own instrument, and to the one outside where one is plugged in. */
  function tell(to: AudioOutput, message: Message): void {
    to.send(message);
    plugged.receiver?.take(message, to.context);
  }

  function forget(): void {
    timers.forEach(clearTimeout);
    timers = [];
  }

  function sleep(): void {
    output?.close();
    output = undefined;
  }

  /** Tells which strings sound, at the times when they are heard; what has been is told at once. */
  function tellSounding(
    { context }: AudioOutput,
    notes: readonly ScheduledNote[],
    from: number,
  ): void {
    const heardLater = from - context.currentTime + (context.outputLatency || context.baseLatency);
    const struck = new Map<number, ScheduledNote>();
    const changes = notes
      .filter(({ string }) => string !== BASS)
      .flatMap((note) => [
        { at: note.at, begins: true, note },
        { at: note.at + note.duration, begins: false, note },
      ])
      .sort((a, b) => a.at - b.at || Number(a.begins) - Number(b.begins));
    for (const { at, begins, note } of changes) {
      const change = (): void => {
        if (begins) struck.set(note.string, note);
        // unless it was struck once more in the meantime
        else if (struck.get(note.string) === note) struck.delete(note.string);
      };
      if (heardLater + at <= 0) change();
      else
        timers.push(
          setTimeout(
            () => {
              change();
              voice.onsounding?.(new Set(struck.keys()));
            },
            (heardLater + at) * 1000,
          ),
        );
    }
    voice.onsounding?.(new Set(struck.keys()));
    doze((heardLater + lengthOf(notes)) * 1000 + IDLE_MS);
  }

  /** Puts the context to sleep after a while, unless something is played before. */
  function doze(ms: number): void {
    timers.push(setTimeout(() => void output?.context.suspend(), ms));
  }

  const voice: Voice = {
    onsounding: undefined,
    async play(notes, options) {
      const number = ++plays;
      forget();
      leaveAlong();
      const woken = await wake();
      // stopped, or asked for something else, while the sound was being fetched
      if (number !== plays) {
        if (disposed) sleep();
        return ok(undefined);
      }
      if (!woken.ok) return woken;
      try {
        const { context } = woken.value;
        const now = context.currentTime;
        const from = playing !== undefined && now < playing.until ? now + BLOCKED : now;
        const { referenceHz } = options;
        const actions = actionsOf(notes, { ...(rig === undefined ? {} : { rig }), ...options });
        tell(woken.value, { say: 'play', actions, at: from });
        playing = { notes, from, until: from + lengthOf(notes), referenceHz };
        tellSounding(woken.value, notes, from);
        // a device may have gone since it answered last
        if (performance.now() - answeredMs < STILL_THERE_MS) return ok(undefined);
        if (await isAnswered(context)) answeredMs = performance.now();
        else if (number === plays) return unanswered();
        return ok(undefined);
      } catch (error) {
        return refuse(noSound(error));
      }
    },
    async along(onended) {
      voice.stop();
      const number = plays;
      const woken = await wake();
      if (number !== plays) {
        if (disposed) sleep();
        return ok(undefined);
      }
      if (!woken.ok) return woken;
      forget();
      playing = undefined;
      endAlong = onended;
      const opened = woken.value;
      return ok({
        context: opened.context,
        actionsOf: (notes, referenceHz) =>
          actionsOf(notes, { ...(rig === undefined ? {} : { rig }), referenceHz }),
        add: (actions) => {
          tell(opened, { say: 'add', actions });
        },
        join: (node) => {
          opened.join(node);
        },
      });
    },
    bend(to, { over = BEND_SECONDS.usual, by = 'pull' } = {}) {
      if (output === undefined || playing === undefined) return;
      const { currentTime } = output.context;
      if (currentTime > playing.until) return;
      const { referenceHz, from } = playing;
      const targets = to.map(({ string, midi }) => ({ string, hz: hzOf(midi, referenceHz) }));
      tell(output, { say: 'bend', to: targets, over, by, hold: RINGS });
      const strings = new Set(to.map(({ string }) => string));
      const notes = heldOn(playing.notes, strings, currentTime - from);
      playing = { ...playing, notes, until: from + lengthOf(notes) };
      forget();
      tellSounding(output, notes, from);
    },
    stop() {
      plays++;
      forget();
      leaveAlong();
      hush();
      if (output !== undefined) doze(IDLE_MS);
      // a play that follows at once still waits until the strings are blocked
      if (output !== undefined && playing !== undefined) {
        const { currentTime } = output.context;
        playing = { ...playing, until: Math.min(playing.until, currentTime + BLOCKED) };
      }
      voice.onsounding?.(NOTHING);
    },
    setLevel(to) {
      level = to;
      output?.setLevel(gainOf(to));
    },
    setRig(to) {
      rig = to;
    },
    elapsed() {
      if (output === undefined || playing === undefined) return undefined;
      const { currentTime } = output.context;
      return currentTime < playing.until ? Math.max(0, currentTime - playing.from) : undefined;
    },
    dispose() {
      plays++;
      forget();
      leaveAlong();
      disposed = true;
      hush();
      sleep();
      if (typeof document !== 'undefined') document.removeEventListener('visibilitychange', hide);
    },
  };

  /** A page out of sight falls silent. */
  function hide(): void {
    if (document.hidden) voice.stop();
  }
  if (typeof document !== 'undefined') document.addEventListener('visibilitychange', hide);
  return voice;
}

const noSound = (error: unknown): string =>
  error instanceof Error && error.message === NO_ANSWER
    ? NO_ANSWER
    : `There is no sound here: ${error instanceof Error ? error.message : String(error)}.`;
