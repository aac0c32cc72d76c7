/** Notes in time, and what of them is heard: by its number where each is due. */
import type { Result } from '$lib/result';
import { dueAt, type Due } from '$lib/playing/due';
import type { Setup } from '$lib/setup/setup';
import type { Voice } from '$lib/sound/voice';

/** How often a part is played that goes round. */
export const ROUNDS = 8;

const FOLLOW_MS = 50;

export class TimedPlayer {
  readonly #voice: Voice;
  #timer: ReturnType<typeof setInterval> | undefined;

  playing = $state(false);
  /** The number of what is heard; nothing while nothing plays. */
  heard = $state<number | undefined>();
  /** Why there is no sound, as a sentence. */
  silence = $state<string | undefined>();

  constructor(voice: Voice) {
    this.#voice = voice;
  }

  stop(): void {
    this.#voice.stop();
    this.#ended();
  }

  dispose(): void {
    this.#ended();
    this.#voice.dispose();
  }

  /** Plays notes as a setup is tuned, and follows what is due of them. */
  protected async play(
    notes: Parameters<Voice['play']>[0],
    { referenceHz }: Setup,
    due: readonly Due[],
  ): Promise<void> {
    this.playing = true;
    const played: Result<unknown, string> = await this.#voice.play(notes, { referenceHz });
    this.silence = played.ok ? undefined : played.error;
    if (!played.ok) return this.#ended();
    clearInterval(this.#timer);
    this.#timer = setInterval(() => {
      const now = this.#voice.elapsed();
      if (now === undefined) this.#ended();
      else this.heard = dueAt(due, now);
    }, FOLLOW_MS);
  }

  #ended(): void {
    clearInterval(this.#timer);
    this.playing = false;
    this.heard = undefined;
  }
}
