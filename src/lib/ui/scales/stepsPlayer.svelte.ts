/** Plays a run or a ladder in time, round and round where that is wished, and knows which step is heard. */
import type { TuneStep } from '$lib/arrange/tune';
import { heardTune } from '$lib/playing/tuneNotes';
import type { Setup } from '$lib/setup/setup';
import type { Voice } from '$lib/sound/voice';

/** How often something is played that is looped. */
const ROUNDS = 8;
const FOLLOW_MS = 50;

/** The same steps several times over, each time after the time before. */
export function looped(steps: readonly TuneStep[], rounds: number): TuneStep[] {
  const last = steps.at(-1)?.onset;
  if (last === undefined) return [];
  const beats = last.at + last.lasts;
  const seconds = last.seconds + last.lastsSeconds;
  return Array.from({ length: rounds }, (_, round) =>
    steps.map((step, index): TuneStep => ({
      ...step,
      // whatever sounded at the end of a round is struck anew
      strings:
        index === 0 ? step.strings.map((each) => ({ ...each, reached: 'picked' })) : step.strings,
      onset: {
        ...step.onset,
        at: step.onset.at + round * beats,
        seconds: step.onset.seconds + round * seconds,
      },
    })),
  ).flat();
}

export class StepsPlayer {
  readonly #voice: Voice;
  #timer: ReturnType<typeof setInterval> | undefined;

  playing = $state(false);
  loop = $state(false);
  /** The step that is heard, by its number among those that are played. */
  index = $state<number | undefined>();
  /** Why there is no sound, as a sentence. */
  silence = $state<string | undefined>();

  constructor(voice: Voice) {
    this.#voice = voice;
  }

  /** Plays, or stops what plays. */
  async toggle(setup: Setup, steps: readonly TuneStep[]): Promise<void> {
    if (this.playing) return this.stop();
    const all = looped(steps, this.loop ? ROUNDS : 1);
    if (all.length === 0) return;
    this.playing = true;
    const notes = heardTune(setup, all);
    const played = await this.#voice.play(notes, { referenceHz: setup.referenceHz });
    this.silence = played.ok ? undefined : played.error;
    if (!played.ok) return this.#ended();
    clearInterval(this.#timer);
    this.#timer = setInterval(() => {
      const now = this.#voice.elapsed();
      if (now === undefined) return this.#ended();
      const at = all.findLastIndex(({ onset }) => onset.seconds <= now + 1e-6);
      this.index = at < 0 ? undefined : at % steps.length;
    }, FOLLOW_MS);
  }

  stop(): void {
    this.#voice.stop();
    this.#ended();
  }

  dispose(): void {
    this.#ended();
    this.#voice.dispose();
  }

  #ended(): void {
    clearInterval(this.#timer);
    this.playing = false;
    this.index = undefined;
  }
}
