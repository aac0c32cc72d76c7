/** Plays one sound of a list at a time, and knows which one rings. */
import { notesOf } from '$lib/playing/schedule';
import type { Voice } from '$lib/sound/voice';
import type { Setup } from '$lib/setup/setup';
import { heardVoicing } from '$lib/tuning/heard';
import type { Voicing } from '$lib/search/voicing';

export class SoundPlayer {
  readonly #voice: Voice;
  #ringing = $state(false);
  #played = $state.raw<Voicing | undefined>();

  /** Why there is no sound, as a sentence. */
  silence = $state<string | undefined>();

  constructor(voice: Voice) {
    this.#voice = voice;
    voice.onsounding = (strings) => {
      this.#ringing = strings.size > 0;
    };
  }

  isPlaying(voicing: Voicing): boolean {
    return this.#ringing && this.#played === voicing;
  }

  /** Plays a voicing as its setup is tuned; stops it where it sounds already. */
  async toggle(voicing: Voicing, setup: Setup): Promise<void> {
    if (this.isPlaying(voicing)) {
      this.#voice.stop();
      return;
    }
    this.#played = voicing;
    const { referenceHz } = setup;
    const pitches = heardVoicing(setup, voicing);
    const played = await this.#voice.play(notesOf(pitches, 'rolled'), { referenceHz });
    this.silence = played.ok ? undefined : played.error;
  }

  stop(): void {
    this.#voice.stop();
  }

  dispose(): void {
    this.#voice.dispose();
  }
}
