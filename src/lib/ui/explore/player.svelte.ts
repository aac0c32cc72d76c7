/** Plays what is held, and knows whether what sounds is still what is held. */
import type { Voice } from '$lib/sound/voice';
import { notesOf, type Manner } from '$lib/sound/schedule';
import type { Explore } from './explore.svelte';

const NOTHING: ReadonlySet<number> = new Set();
/** What wants the space bar for itself. */
const WANTS_SPACE =
  'input, select, textarea, button, summary, a, [role="button"], [contenteditable]';

export class Player {
  readonly #explore: Explore;
  readonly #voice: Voice;
  #ringing = $state.raw<ReadonlySet<number>>(NOTHING);
  #played = $state.raw<Explore['touched'] | undefined>();

  manner = $state<Manner>('rolled');
  /** Why there is no sound, as a sentence. */
  silence = $state<string | undefined>();
  /** What is held rings at this moment. */
  readonly playing = $derived.by(
    () => this.#ringing.size > 0 && this.#played === this.#explore.touched,
  );
  /** Strings that ring, as long as the hands have not moved on. */
  readonly sounding = $derived(this.playing ? this.#ringing : NOTHING);

  constructor(explore: Explore, voice: Voice) {
    this.#explore = explore;
    this.#voice = voice;
    voice.onsounding = (strings) => {
      this.#ringing = strings;
    };
  }

  async play(): Promise<void> {
    const { touched, sound, setup } = this.#explore;
    const pitches = sound.pitches.map((midi, place) => ({
      string: touched.strings[place] ?? 0,
      midi,
    }));
    if (pitches.length === 0) return;
    this.#played = touched;
    const { referenceHz } = setup;
    const played = await this.#voice.play(notesOf(pitches, this.manner), { referenceHz });
    this.silence = played.ok ? undefined : played.error;
  }

  /** Plays what is held; stops where that sounds already. */
  toggle(): void {
    if (this.playing) this.#voice.stop();
    else void this.play();
  }

  /** Space plays and Escape stops, wherever nothing else wants them. */
  keydown(event: KeyboardEvent): void {
    if (event.key === 'Escape') this.#voice.stop();
    if (event.key !== ' ' || event.defaultPrevented) return;
    if (event.target instanceof Element && event.target.closest(WANTS_SPACE)) return;
    event.preventDefault();
    this.toggle();
  }

  dispose(): void {
    this.#voice.dispose();
  }
}
