/**
 * What the rest of the program knows of sound. A better instrument takes its place behind this same
 * interface.
 */
import { ok, refuse, type Result } from '$lib/result';
import { lengthOf, type ScheduledNote } from './schedule';
import type { Strings } from './strings';

/** The strings, the clock of their context (s), and how long to rest between damping and striking (s). */
interface Awake {
  readonly strings: Strings;
  readonly now: () => number;
  readonly rest: number;
}

export interface Voice {
  /** Plays notes from now on, instead of what sounds; refused with a sentence where there is no sound. */
  play(
    notes: readonly ScheduledNote[],
    options: { readonly referenceHz: number },
  ): Promise<Result<undefined, string>>;
  /** Damps everything. */
  stop(): void;
  /** 0 to 1. */
  setLevel(level: number): void;
  dispose(): void;
  /** Called when strings begin or cease to sound, with those that do. */
  onsounding: ((strings: ReadonlySet<number>) => void) | undefined;
}

const NOTHING: ReadonlySet<number> = new Set();
/** A browser that never answers must not keep the player waiting. */
const PATIENCE_MS = 4000;

export function createVoice(): Voice {
  let awake: Awake | undefined;
  let level = 1;
  let plays = 0;
  let disposed = false;
  let timers: ReturnType<typeof setTimeout>[] = [];

  /** `tone` makes an audio context when it is imported; that may only happen in a gesture. */
  async function wake(): Promise<Result<Awake, string>> {
    try {
      // it would greet the console otherwise
      Object.assign(globalThis, { TONE_SILENCE_LOGGING: true });
      const [tone, { stringsOf, REST }] = await Promise.all([import('tone'), import('./strings')]);
      const started = await within(PATIENCE_MS, tone.start());
      if (!started) return refuse('The browser does not let sound start; touch Play once more.');
      if (awake === undefined) {
        // not tone.now(), which looks a tenth of a second ahead: a stop must be heard at once
        awake = { strings: stringsOf(tone), now: () => tone.immediate(), rest: REST };
        awake.strings.setLevel(level);
      }
      return ok(awake);
    } catch (error) {
      return refuse(noSound(error));
    }
  }

  function forget(): void {
    timers.forEach(clearTimeout);
    timers = [];
  }

  function sleep(): void {
    awake?.strings.dispose();
    awake = undefined;
  }

  const voice: Voice = {
    onsounding: undefined,
    async play(notes, { referenceHz }) {
      const number = ++plays;
      forget();
      const woken = await wake();
      // stopped, or asked for something else, while the sound was being fetched
      if (number !== plays) {
        if (disposed) sleep();
        return ok(undefined);
      }
      if (!woken.ok) return woken;
      const { strings, now, rest } = woken.value;
      try {
        const from = now();
        strings.damp(from);
        strings.strike(notes, from + rest, referenceHz);
      } catch (error) {
        return refuse(noSound(error));
      }
      const struck = new Set<number>();
      const tell = (at: number, change: () => void): void => {
        timers.push(
          setTimeout(
            () => {
              change();
              voice.onsounding?.(new Set(struck));
            },
            (rest + at) * 1000,
          ),
        );
      };
      for (const { string, at } of notes) tell(at, () => struck.add(string));
      tell(lengthOf(notes), () => {
        struck.clear();
      });
      return ok(undefined);
    },
    stop() {
      plays++;
      forget();
      awake?.strings.damp(awake.now());
      voice.onsounding?.(NOTHING);
    },
    setLevel(to) {
      level = to;
      awake?.strings.setLevel(to);
    },
    dispose() {
      plays++;
      forget();
      disposed = true;
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
  `There is no sound here: ${error instanceof Error ? error.message : String(error)}.`;

/** Whether a promise keeps its word in time. */
async function within(ms: number, promise: Promise<unknown>): Promise<boolean> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<false>((resolve) => {
    timer = setTimeout(() => {
      resolve(false);
    }, ms);
  });
  try {
    return await Promise.race([promise.then(() => true), late]);
  } finally {
    clearTimeout(timer);
  }
}
