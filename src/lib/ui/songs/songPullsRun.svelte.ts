/** Arranges songs with some changes of a setup, one change after another, and puts those first that do most. */
import type { SavedForSongs } from '$lib/answers/songs';
import type { Song } from '$lib/coverage/songs';
import type { SongFigures } from '$lib/coverage/songResults';
import type { Result } from '$lib/result';
import type { Setup } from '$lib/setup/setup';
import type { WorkerPool } from '$lib/ui/worker/workerPool';

/** A change that is to be arranged with. */
export interface Tried {
  /** Tells it from all others. */
  readonly key: string;
  readonly after: Setup;
  /** By the chord types of the songs: decides where the songs do not. */
  readonly score: number;
}

/** Those who arrange songs with a change. */
export interface ArrangingPulls {
  /** How many changes they take at once. */
  readonly hands: number;
  now(setup: Setup, song: Song): Promise<Result<SongFigures, string>>;
  with(
    before: Setup,
    after: Setup,
    songs: readonly Song[],
    now: readonly SongFigures[],
  ): Promise<Result<SavedForSongs, string>>;
  /** What they are at is wanted no more. */
  stop(): void;
}

export const arrangingPullsOn = (
  pool: Pick<WorkerPool, 'ask' | 'size' | 'stop'>,
): ArrangingPulls => ({
  // one is left for the questions of the page
  hands: Math.max(1, pool.size - 1),
  now: (...given) => pool.ask('songNow', ...given),
  with: (...given) => pool.ask('songsWith', ...given),
  stop: () => {
    pool.stop('songNow');
    pool.stop('songsWith');
  },
});

export class SongPullsRun {
  readonly #arranging: ArrangingPulls;
  #turn = 0;

  /** What is known of changes, by their keys. */
  found = $state.raw<Readonly<Record<string, SavedForSongs>>>({});
  /** How many are known. */
  readonly known = $derived(Object.keys(this.found).length);
  /** How many changes were asked for. */
  many = $state(0);
  running = $state(false);
  failure = $state<string | undefined>();

  constructor(arranging: ArrangingPulls) {
    this.#arranging = arranging;
  }

  /** Those first that make most songs playable, then those that save most; what is not known yet stands behind. */
  inOrder<T extends { readonly key: string; readonly score: number }>(all: readonly T[]): T[] {
    const useOf = ({ key }: T): readonly [number, number] => {
      const { opened, saved } = this.found[key] ?? { opened: -Infinity, saved: -Infinity };
      return [opened, saved];
    };
    const difference = (a: number, b: number): number => (a === b ? 0 : b - a);
    return [...all].sort((a, b) => {
      const [[opened, saved], [openedB, savedB]] = [useOf(a), useOf(b)];
      return difference(opened, openedB) || difference(saved, savedB) || b.score - a.score;
    });
  }

  async run(setup: Setup, songs: readonly Song[], tried: readonly Tried[]): Promise<void> {
    this.stop();
    const turn = ++this.#turn;
    this.found = {};
    this.many = tried.length;
    this.failure = undefined;
    this.running = true;
    const failed = (error: string): void => {
      if (turn !== this.#turn) return;
      this.stop();
      this.failure = error;
    };
    const now: SongFigures[] = [];
    for (const each of await Promise.all(songs.map((song) => this.#arranging.now(setup, song)))) {
      if (!each.ok) {
        failed(each.error);
        return;
      }
      now.push(each.value);
    }
    const left = [...tried];
    const work = async (): Promise<void> => {
      for (
        let next = left.shift();
        next !== undefined && turn === this.#turn;
        next = left.shift()
      ) {
        const saved = await this.#arranging.with(setup, next.after, songs, now);
        if (turn !== this.#turn) return;
        if (!saved.ok) {
          failed(saved.error);
          return;
        }
        this.found = { ...this.found, [next.key]: saved.value };
      }
    };
    await Promise.all(Array.from({ length: this.#arranging.hands }, work));
    if (turn === this.#turn) this.running = false;
  }

  /** Drops what is known of changes that are no longer on show. */
  forget(): void {
    this.stop();
    this.found = {};
  }

  stop(): void {
    if (!this.running) return;
    this.#turn++;
    this.running = false;
    this.#arranging.stop();
  }
}
