/** Plays the rows of a list, one at a time, and knows which of them rings. */
import type { Midi } from '$lib/theory/pitch';
import { lengthOf, notesOf, type Glide, type ScheduledNote } from '$lib/playing/schedule';
import type { Voice } from '$lib/sound/voice';

export interface Heard {
  readonly strings: readonly number[];
  readonly pitches: readonly Midi[];
  /** Where the strings go while they ring, where they do. */
  readonly to?: readonly Midi[] | undefined;
}

/** Seconds until a control is pressed, and that its way takes. */
const PRESSED_AFTER = 1.2;
const PRESSED_WITHIN = 0.18;

const NOTHING: ReadonlySet<number> = new Set();

export class Hearing {
  readonly #voice: Voice;
  #key = $state<string | undefined>();
  #ringing = $state.raw<ReadonlySet<number>>(NOTHING);
  /** Why there is no sound, as a sentence. */
  silence = $state<string | undefined>();

  /** The row that rings; `undefined` in silence. */
  readonly playing = $derived(this.#ringing.size === 0 ? undefined : this.#key);
  readonly sounding = $derived(this.#ringing);

  constructor(voice: Voice) {
    this.#voice = voice;
    voice.onsounding = (strings) => {
      this.#ringing = strings;
    };
  }

  /** Plays a row; stops where it rings already. */
  async toggle(key: string, heard: Heard, referenceHz: number): Promise<void> {
    if (this.playing === key) {
      this.#voice.stop();
      return;
    }
    this.#key = key;
    const played = await this.#voice.play(scheduleOf(heard), { referenceHz });
    this.silence = played.ok ? undefined : played.error;
  }

  stop(): void {
    this.#voice.stop();
  }

  dispose(): void {
    this.#voice.dispose();
  }
}

/** Rolled; where strings move, they glide while they ring. */
function scheduleOf({ strings, pitches, to }: Heard): ScheduledNote[] {
  const picked = pitches.map((midi, index) => ({ string: strings[index] ?? 0, midi }));
  const notes = notesOf(picked, 'rolled');
  if (to === undefined) return notes;
  const end = Math.max(lengthOf(notes), PRESSED_AFTER + 2);
  return notes.map((note): ScheduledNote => {
    const target = to[strings.indexOf(note.string)] ?? note.midi;
    const glide: Glide = { at: PRESSED_AFTER, over: PRESSED_WITHIN, to: target };
    const duration = end - note.at;
    return target === note.midi ? { ...note, duration } : { ...note, duration, glides: [glide] };
  });
}
