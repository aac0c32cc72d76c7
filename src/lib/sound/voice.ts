/**
 * What the rest of the program knows of sound. A better instrument takes its place behind this same
 * interface.
 */
import { ok, refuse, type Result } from '$lib/result';
import { lengthOf, type ScheduledNote } from './schedule';
import type { Strings } from './strings';

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
/** Seconds between damping what sounds and striking anew, so that nothing clicks. */
const GAP = 0.03;

/** A browser that never answers must not keep the player waiting. */
const PATIENCE_MS = 4000;

export function createVoice(): Voice {
  let strings: Strings | undefined;
  let now: (() => number) | undefined;
  let level = 1;
  let plays = 0;
  let timers: ReturnType<typeof setTimeout>[] = [];

  /** `tone` makes an audio context when it is imported; that may only happen in a gesture. */
  async function wake(): Promise<Result<Strings, string>> {
    try {
      const tone = await import('tone');
      const started = await Promise.race([
        tone.start().then(() => true),
        new Promise<boolean>((resolve) => setTimeout(() => resolve(false), PATIENCE_MS)),
      ]);
      if (!started) return refuse('The browser does not let sound start; touch Play once more.');
      if (strings === undefined) {
        const { stringsOf } = await import('./strings');
        strings = stringsOf(tone);
        strings.setLevel(level);
        now = () => tone.now();
      }
      return ok(strings);
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      return refuse(`There is no sound here: ${reason}.`);
    }
  }

  function forget(): void {
    timers.forEach(clearTimeout);
    timers = [];
  }

  const voice: Voice = {
    onsounding: undefined,
    async play(notes, { referenceHz }) {
      const number = ++plays;
      forget();
      const woken = await wake();
      if (!woken.ok) return woken;
      // stopped, or asked for something else, while the sound was being fetched
      if (number !== plays || now === undefined) return ok(undefined);
      const at = now();
      woken.value.damp(at);
      woken.value.strike(notes, at + GAP, referenceHz);
      const struck = new Set<number>();
      for (const { string, at } of notes)
        timers.push(
          setTimeout(() => {
            struck.add(string);
            voice.onsounding?.(new Set(struck));
          }, at * 1000),
        );
      timers.push(setTimeout(() => voice.onsounding?.(NOTHING), lengthOf(notes) * 1000));
      return ok(undefined);
    },
    stop() {
      plays++;
      forget();
      if (strings !== undefined && now !== undefined) strings.damp(now());
      voice.onsounding?.(NOTHING);
    },
    setLevel(to) {
      level = to;
      strings?.setLevel(to);
    },
    dispose() {
      plays++;
      forget();
      strings?.dispose();
      strings = undefined;
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
