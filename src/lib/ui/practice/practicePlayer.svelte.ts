/** Plays what a card holds: one hold, or one that is bent into the next. */
import { chromaOfName } from '$lib/theory/pitch';
import type { Task } from '$lib/practice/task';
import type { Hold } from '$lib/search/hold';
import type { Setup } from '$lib/setup/setup';
import type { PickedPitch } from '$lib/playing/schedule';
import type { Voice } from '$lib/sound/voice';
import { withFalls } from '$lib/strings/sustain';
import { heardPitches } from '$lib/tuning/heard';
import type { Listening } from '$lib/ui/sound/listening.svelte';

/** How long the first of two rings before it is bent, in milliseconds. */
const RINGS_MS = 1300;

const NOTHING: ReadonlySet<number> = new Set();

export class PracticePlayer {
  readonly #voice: Voice;
  readonly #listening: Listening;
  #next: ReturnType<typeof setTimeout> | undefined;
  ringing = $state.raw<ReadonlySet<number>>(NOTHING);
  /** Why there is no sound, as a sentence. */
  silence = $state<string | undefined>();
  heard = $state(false);

  constructor(voice: Voice, listening: Listening) {
    this.#voice = voice;
    this.#listening = listening;
    voice.onsounding = (strings) => (this.ringing = strings);
  }

  #pitches(setup: Setup, task: Task, hold: Hold): PickedPitch[] {
    const root = chromaOfName(task.chord.root);
    const { intonation } = this.#listening.choices;
    return withFalls(setup, hold.neck, heardPitches(setup, hold, intonation, root));
  }

  /** Plays holds of a card, each bent into the next. */
  async play(setup: Setup, task: Task, holds: readonly Hold[]): Promise<void> {
    this.stop();
    const [first, second] = holds;
    if (first === undefined || first.strings.length === 0) return;
    const notes = this.#listening.notes(this.#pitches(setup, task, first));
    const played = await this.#voice.play(notes, this.#listening.expression(setup.referenceHz));
    this.silence = played.ok ? undefined : played.error;
    if (!played.ok) return;
    this.heard = true;
    if (second === undefined) return;
    this.#next = setTimeout(() => {
      const over = this.#listening.bendSeconds;
      this.#voice.bend(this.#pitches(setup, task, second), { over, by: 'pull' });
    }, RINGS_MS);
  }

  stop(): void {
    clearTimeout(this.#next);
    this.#voice.stop();
  }

  dispose(): void {
    clearTimeout(this.#next);
    this.#voice.dispose();
  }
}
