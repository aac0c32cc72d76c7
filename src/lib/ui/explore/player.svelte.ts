/** Plays what is held, follows the hands while it rings, and knows whether it is still what is held. */
import { chromaOfName } from '$lib/theory/pitch';
import type { Hold } from '$lib/search/hold';
import { slideSeconds, type PickedPitch, type ScheduledNote } from '$lib/playing/schedule';
import type { Voice } from '$lib/sound/voice';
import { withFalls } from '$lib/strings/sustain';
import { heardPitches } from '$lib/tuning/heard';
import type { Listening } from '$lib/ui/sound/listening.svelte';
import { saveSound } from '$lib/ui/sound/saveSound';
import type { Explore } from './explore.svelte';

const NOTHING: ReadonlySet<number> = new Set();
/** What wants the space bar for itself. */
const WANTS_SPACE =
  'input, select, textarea, button, summary, a, [role="button"], [contenteditable]';

export class Player {
  readonly #explore: Explore;
  readonly #voice: Voice;
  readonly #listening: Listening;
  #ringing = $state.raw<ReadonlySet<number>>(NOTHING);
  #played = $state.raw<Hold | undefined>();
  #setup: Explore['setup'] | undefined;

  /** Why there is no sound, as a sentence. */
  silence = $state<string | undefined>();
  /** Something has been played on this visit. */
  heard = $state(false);
  saving = $state(false);
  /** What holds is ringing at this moment. */
  readonly playing = $derived.by(
    () => this.#ringing.size > 0 && this.#played === this.#explore.hold,
  );
  /** Strings that ring, as long as the hands have not moved on. */
  readonly sounding = $derived(this.playing ? this.#ringing : NOTHING);

  constructor(explore: Explore, voice: Voice, listening: Listening) {
    this.#explore = explore;
    this.#voice = voice;
    this.#listening = listening;
    voice.onsounding = (strings) => {
      this.#ringing = strings;
    };
    explore.onmoved = (before, after) => {
      this.#follow(before, after);
    };
  }

  /** The root of the wanted chord, or of what sounds. */
  get #root(): number | undefined {
    const { reference } = this.#explore;
    return reference === undefined ? undefined : chromaOfName(reference.root);
  }

  get #pitches(): PickedPitch[] {
    const { setup, hold } = this.#explore;
    const { intonation } = this.#listening.choices;
    return withFalls(setup, hold.neck, heardPitches(setup, hold, intonation, this.#root));
  }

  async play(): Promise<void> {
    const { hold, setup } = this.#explore;
    const notes = this.#listening.notes(this.#pitches, this.#root);
    if (notes.length === 0) return;
    this.#played = hold;
    this.#setup = setup;
    const played = await this.#voice.play(notes, this.#listening.expression(setup.referenceHz));
    this.silence = played.ok ? undefined : played.error;
    if (played.ok) this.heard = true;
  }

  /** Plays what is laid out in time already: positions in turn, a passage, harmonics. */
  async hear(laidOut: readonly ScheduledNote[]): Promise<void> {
    const { setup } = this.#explore;
    this.#played = undefined;
    const notes = this.#listening.struckAsChosen(laidOut);
    const played = await this.#voice.play(notes, this.#listening.expression(setup.referenceHz));
    this.silence = played.ok ? undefined : played.error;
    if (played.ok) this.heard = true;
  }

  /**
   * The bar or a control has been moved with the same strings under the hand. If they ring, they are
   * heard to move, as on the instrument.
   */
  #follow(before: Hold, after: Hold): void {
    const { setup } = this.#explore;
    if (this.#played !== before || this.#setup !== setup) return;
    if (before.neck !== after.neck || before.strings.join() !== after.strings.join()) return;
    this.#played = after;
    const over = this.#listening.bendSeconds;
    const slid = before.fret !== after.fret || before.slant !== after.slant;
    this.#voice.bend(
      this.#pitches,
      slid
        ? { over: slideSeconds(Math.abs(after.fret - before.fret), over), by: 'bar' }
        : { over, by: 'pull' },
    );
  }

  /** Plays what is held; stops where that sounds already. */
  toggle(): void {
    if (this.playing) this.#voice.stop();
    else void this.play();
  }

  /** Gives what is held as a file of sound. */
  async save(name: string): Promise<void> {
    const notes = this.#listening.notes(this.#pitches, this.#root);
    if (notes.length === 0 || this.saving) return;
    this.saving = true;
    const expression = this.#listening.expression(this.#explore.setup.referenceHz);
    const saved = await saveSound(notes, expression, name);
    this.saving = false;
    this.silence = saved.ok ? undefined : saved.error;
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
