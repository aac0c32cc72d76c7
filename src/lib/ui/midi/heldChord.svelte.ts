/** The chord that is held on a keyboard: it asks when the fingers have come to rest. */
import { heldAfter, namedKeys, typedFor, type Meaning } from '$lib/midi/heldKeys';
import type { KeyMove } from '$lib/midi/message';
import type { Midi } from '$lib/theory/pitch';
import type { Key } from '$lib/theory/spelling';

/** Fingers of one chord come down within this time. */
const RESTS_MS = 150;

export class HeldChord {
  readonly #key: () => Key | undefined;
  readonly #onasked: (chord: string) => void;
  #held: readonly Midi[] = [];
  /** What was held when the last finger came down. */
  #chord: readonly Midi[] = [];
  #timer: ReturnType<typeof setTimeout> | undefined;

  meaning = $state<Meaning>('pitches');
  /** The last chord; it stays when the keys have gone up. */
  keys = $state.raw<readonly Midi[]>([]);
  readonly named = $derived.by(() => namedKeys(this.keys, this.#key()));

  /** @param onasked gets what would be typed into the field for a chord, in letters */
  constructor(key: () => Key | undefined, onasked: (chord: string) => void) {
    this.#key = key;
    this.#onasked = onasked;
  }

  take(move: KeyMove): void {
    this.#held = heldAfter(this.#held, move);
    if (move.isDown) {
      this.#chord = this.#held;
      clearTimeout(this.#timer);
      this.#timer = setTimeout(() => this.#rest(), RESTS_MS);
    }
    // let go before the fingers came to rest
    else if (this.#held.length === 0 && this.#timer !== undefined) this.#rest();
  }

  #rest(): void {
    this.forget();
    this.keys = this.#chord;
    this.ask();
  }

  /** Asks what is held, as it is meant. */
  ask(): void {
    const typed = typedFor(this.keys, this.meaning, this.#key());
    if (typed !== undefined) this.#onasked(typed);
  }

  mean(meaning: Meaning): void {
    this.meaning = meaning;
    this.ask();
  }

  /** What was about to be asked is not. */
  forget(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
  }
}
