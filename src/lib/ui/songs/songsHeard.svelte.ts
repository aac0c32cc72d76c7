/** Plays the arrangement of a song, one at a time, and knows which is heard. */
import type { ArrangedWay } from '$lib/arrange/arrange';
import type { Song } from '$lib/coverage/songs';
import type { Setup } from '$lib/setup/setup';
import type { Voice } from '$lib/sound/voice';

export class SongsHeard {
  readonly #voice: Voice;
  #way = $state.raw<ArrangedWay | undefined>();
  #ringing = $state(false);
  /** Why there is no sound, as a sentence. */
  silence = $state<string | undefined>();

  constructor(voice: Voice) {
    this.#voice = voice;
    voice.onsounding = (strings) => {
      this.#ringing = strings.size > 0;
    };
  }

  isPlaying(way: ArrangedWay | undefined): boolean {
    return this.#ringing && way !== undefined && this.#way === way;
  }

  /** Plays an arrangement as its setup is tuned; stops it where it is heard already. */
  async toggle(setup: Setup, { progression }: Song, way: ArrangedWay): Promise<void> {
    if (this.isPlaying(way)) {
      this.#voice.stop();
      return;
    }
    const [{ performanceOf }, { heardPitches }] = await Promise.all([
      import('$lib/playing/performance'),
      import('$lib/tuning/heard'),
    ]);
    this.#voice.stop();
    this.#way = way;
    const { notes } = performanceOf({
      ...{ setup, progression, steps: way.steps },
      pitchesOf: (step) => heardPitches(setup, step.hold),
    });
    const played = await this.#voice.play(notes, { referenceHz: setup.referenceHz });
    this.silence = played.ok ? undefined : played.error;
  }

  stop(): void {
    this.#voice.stop();
  }

  dispose(): void {
    this.#voice.dispose();
  }
}
