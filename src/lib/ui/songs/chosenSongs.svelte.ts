/** The songs of a visit that setups are measured by: what is kept on the device, and files that were opened. */
import { SvelteMap } from 'svelte/reactivity';
import { stepsOf } from '$lib/arrange/progression';
import type { Song } from '$lib/coverage/songs';
import type { StoredProgression } from '$lib/storage/progressionKind';
import { saidBy } from '$lib/storage/piece';
import { openedText } from '$lib/ui/arrange/files';
import { savedProgressions } from '$lib/ui/arrange/keeping.svelte';

/** How much a song counts; 0 leaves it out. */
export const WEIGHTS = [
  [0, 'not at all'],
  [0.5, 'half'],
  [1, 'once'],
  [2, 'twice'],
  [3, 'three times'],
] as const;

/** A song with what tells it from all others. */
export interface ListedSong {
  readonly key: string;
  readonly song: Song;
}

/** A piece as a song of a repertoire; nothing where there is no chord in it. */
function songOf(name: string, stored: StoredProgression): Song | undefined {
  const { progression, piece } = saidBy(stored);
  if (!stepsOf(progression).some(({ chord }) => chord !== 'no chord')) return undefined;
  return { name, progression, weight: 1, ...(piece === undefined ? {} : { piece }) };
}

export class ChosenSongs {
  readonly #weights = new SvelteMap<string, number>();
  #opened = $state.raw<readonly ListedSong[]>([]);
  #files = 0;

  /** Sentences about files that were opened. */
  notes = $state.raw<readonly string[]>([]);

  /** Kept pieces, newest first, then opened files. */
  readonly all = $derived.by((): readonly ListedSong[] => {
    const kept = savedProgressions().stored.flatMap(({ id, name, value }): ListedSong[] => {
      const song = value.ok ? songOf(name, value.value) : undefined;
      return song === undefined ? [] : [{ key: id, song: { ...song, weight: this.weightOf(id) } }];
    });
    const opened = this.#opened.map(({ key, song }) => ({
      key,
      song: { ...song, weight: this.weightOf(key) },
    }));
    return [...kept, ...opened];
  });
  /** Those that count. */
  readonly counting = $derived(this.all.filter(({ song }) => song.weight > 0));

  /** How much a song counts. */
  weightOf(key: string): number {
    return this.#weights.get(key) ?? 1;
  }

  weigh(key: string, weight: number): void {
    this.#weights.set(key, weight);
  }

  /** Takes files for songs of this visit; what cannot be taken is told. */
  async open(files: Iterable<File>): Promise<void> {
    const notes: string[] = [];
    for (const file of files) {
      const read = await openedText(file, { bars: [] });
      if (!read.ok) {
        notes.push(`${file.name}: ${read.error}`);
        continue;
      }
      const { piece, unread } = read.value;
      notes.push(...unread.map((sentence) => `${file.name}: ${sentence}`));
      const name = file.name.replace(/\.[^.]+$/u, '');
      const song = songOf(name, { setup: '', piece, wishes: {} });
      if (song === undefined) notes.push(`${file.name}: there is no chord in it.`);
      else this.#opened = [...this.#opened, { key: `file ${++this.#files}`, song }];
    }
    this.notes = notes;
  }
}

let songs: ChosenSongs | undefined;

/** The one list of the whole visit; called in the browser only. */
export const chosenSongs = (): ChosenSongs => (songs ??= new ChosenSongs());
