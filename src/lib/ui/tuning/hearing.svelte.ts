/** Lets targets and chords be heard as they are tuned. */
import { notesOf, type PickedPitch } from '$lib/playing/schedule';
import type { Voice } from '$lib/sound/voice';
import type { Setup } from '$lib/setup/setup';
import { centsFrom } from '$lib/tuning/steps';
import type { TunedUse } from '$lib/tuning/tune';

export class Hearing {
  readonly #voice: Voice;
  /** Why there is no sound, as a sentence. */
  silence = $state<string | undefined>();

  constructor(voice: Voice) {
    this.#voice = voice;
  }

  async #play({ referenceHz }: Setup, pitches: readonly PickedPitch[]): Promise<void> {
    const played = await this.#voice.play(notesOf(pitches, 'together'), { referenceHz });
    this.silence = played.ok ? undefined : played.error;
  }

  note(setup: Setup, string: number, midi: number, cents: number): Promise<void> {
    return this.#play(setup, [{ string, midi: midi + cents / 100 }]);
  }

  /** A chord as it would sound in equal temperament, or as it is tuned. */
  use(setup: Setup, { use, ...heard }: TunedUse, as: 'before' | 'after'): Promise<void> {
    const a4 = { hz: setup.referenceHz };
    return this.#play(
      setup,
      use.strings.map((string, tone) => ({
        string,
        midi: 69 + centsFrom(a4, heard[as].hz[tone] ?? setup.referenceHz) / 100,
      })),
    );
  }

  dispose(): void {
    this.#voice.dispose();
  }
}
