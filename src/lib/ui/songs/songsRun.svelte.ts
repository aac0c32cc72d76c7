/** Measures two setups by songs: one after another, shown as they come in. Stopped, it keeps what it has. */
import { inOrderOfUse, songSums, type SongBetween } from '$lib/coverage/songResults';
import type { Song } from '$lib/coverage/songs';
import type { Result } from '$lib/result';
import type { Setup } from '$lib/setup/setup';
import type { WorkerPool } from '$lib/ui/worker/workerPool';
import type { ListedSong } from './chosenSongs.svelte';

/** Before and after a change of one setup, or on two of which neither is the other changed. */
export type SongsAsked = 'songBetween' | 'songOnBoth';

/** Those who arrange songs. */
export interface Arranging {
  /** How many songs they take at once. */
  readonly hands: number;
  between(a: Setup, b: Setup, song: Song): Promise<Result<SongBetween, string>>;
  /** What they are at is wanted no more. */
  stop(): void;
}

export const arrangingOn = (
  pool: Pick<WorkerPool, 'ask' | 'size' | 'stop'>,
  asked: SongsAsked,
): Arranging => ({
  // one is left for the questions of the page
  hands: Math.max(1, pool.size - 1),
  between: (a, b, song) => pool.ask(asked, a, b, song),
  stop: () => pool.stop(asked),
});

/** A song with what was found of it. */
export interface FoundSong extends ListedSong {
  readonly between: SongBetween;
}

export class SongsRun {
  readonly #arranging: Arranging;
  #turn = 0;
  #setups: readonly [Setup, Setup] | undefined;

  found = $state.raw<readonly FoundSong[]>([]);
  /** How many songs were asked for. */
  many = $state(0);
  running = $state(false);
  failure = $state<string | undefined>();

  /** Songs that can be played now first. */
  readonly rows = $derived.by(() => {
    return inOrderOfUse(this.found.map(({ between }) => between)).flatMap(
      (between) => this.found.find((each) => each.between === between) ?? [],
    );
  });
  readonly sums = $derived(songSums(this.found.map(({ between }) => between)));

  constructor(arranging: Arranging) {
    this.#arranging = arranging;
  }

  /** What is on show is of other setups than these. */
  isOf(a: Setup, b: Setup): boolean {
    return this.#setups?.[0] === a && this.#setups[1] === b;
  }

  get setups(): readonly [Setup, Setup] | undefined {
    return this.#setups;
  }

  /** Measures two setups by some songs. */
  async run(a: Setup, b: Setup, songs: readonly ListedSong[]): Promise<void> {
    this.stop();
    const turn = ++this.#turn;
    this.#setups = [a, b];
    this.found = [];
    this.many = songs.length;
    this.failure = undefined;
    this.running = true;
    const left = [...songs];
    const work = async (): Promise<void> => {
      for (let next = left.shift(); next !== undefined; next = left.shift()) {
        const between = await this.#arranging.between(a, b, next.song);
        if (turn !== this.#turn) return;
        if (!between.ok) {
          this.stop();
          this.failure = between.error;
          return;
        }
        this.found = [...this.found, { ...next, between: between.value }];
      }
    };
    await Promise.all(Array.from({ length: this.#arranging.hands }, work));
    if (turn === this.#turn) this.running = false;
  }

  stop(): void {
    if (!this.running) return;
    this.#turn++;
    this.running = false;
    this.#arranging.stop();
  }
}
