/**
 * The songs that setups are measured by: the pieces that are kept on the device, and files that were opened as songs,
 * which are kept beside them with what each counts, so that a later visit measures by the same ones.
 */
import { SvelteMap } from 'svelte/reactivity';
import { stepsOf } from '$lib/arrange/progression';
import type { Song } from '$lib/coverage/songs';
import { progressionKind, type StoredProgression } from '$lib/storage/progressionKind';
import { saidBy } from '$lib/storage/piece';
import { storedSetting, storeSetting } from '$lib/storage/setting';
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

/** A file that was opened as a song, as it is kept. */
interface KeptSong {
  readonly key: string;
  readonly name: string;
  /** The piece as a document. */
  readonly text: string;
}

interface KeptSongs {
  readonly opened: readonly KeptSong[];
  /** By key, where it is not once. */
  readonly weights: Readonly<Record<string, number>>;
}

const KEPT = 'songs';

/** What was kept before, of whatever visit; nothing of what cannot be read. */
function keptSongs(): KeptSongs {
  try {
    const { opened, weights } = JSON.parse(storedSetting(KEPT)) as KeptSongs;
    return {
      opened: opened.filter(({ key, name, text }) =>
        [key, name, text].every((each) => typeof each === 'string'),
      ),
      weights: Object.fromEntries(
        Object.entries(weights).filter(([, weight]) => WEIGHTS.some(([each]) => each === weight)),
      ),
    };
  } catch {
    return { opened: [], weights: {} };
  }
}

/** A file as a song; nothing where its text is no piece any more. */
function listed({ key, name, text }: KeptSong): ListedSong[] {
  const read = progressionKind.read(text);
  const song = read.ok ? songOf(name, read.value) : undefined;
  return song === undefined ? [] : [{ key, song }];
}

class ChosenSongs {
  readonly #weights = new SvelteMap<string, number>();
  #opened = $state.raw<readonly ListedSong[]>([]);

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

  constructor() {
    const { opened, weights } = keptSongs();
    this.#opened = opened.flatMap(listed);
    for (const [key, weight] of Object.entries(weights)) this.#weights.set(key, weight);
  }

  /** How much a song counts. */
  weightOf(key: string): number {
    return this.#weights.get(key) ?? 1;
  }

  weigh(key: string, weight: number): void {
    this.#weights.set(key, weight);
    this.#keep(({ opened, weights }) => ({ opened, weights: { ...weights, [key]: weight } }));
  }

  /** Was it opened as a file, and can it be removed? */
  isOpened(key: string): boolean {
    return this.#opened.some((each) => each.key === key);
  }

  /** Takes an opened file out of the songs. */
  remove(key: string): void {
    this.#opened = this.#opened.filter((each) => each.key !== key);
    this.#weights.delete(key);
    this.#keep(({ opened, weights: { [key]: _gone, ...weights } }) => ({
      opened: opened.filter((each) => each.key !== key),
      weights,
    }));
  }

  /** Takes files for songs; what cannot be taken is told. */
  async open(files: Iterable<File>): Promise<void> {
    const notes: string[] = [];
    const fresh: KeptSong[] = [];
    for (const file of files) {
      const read = await openedText(file, { bars: [] });
      if (!read.ok) {
        notes.push(`${file.name}: ${read.error}`);
        continue;
      }
      const { piece, unread } = read.value;
      notes.push(...unread.map((sentence) => `${file.name}: ${sentence}`));
      const name = file.name.replace(/\.[^.]+$/u, '');
      const stored: StoredProgression = { setup: '', piece, wishes: {} };
      const song = songOf(name, stored);
      if (song === undefined) {
        notes.push(`${file.name}: there is no chord in it.`);
        continue;
      }
      const key = `file ${crypto.randomUUID()}`;
      this.#opened = [...this.#opened, { key, song }];
      fresh.push({ key, name, text: progressionKind.write(stored) });
    }
    const isKept = this.#keep((kept) => ({ ...kept, opened: [...kept.opened, ...fresh] }));
    if (!isKept && fresh.length > 0)
      notes.push('These songs are there until the page is closed: the device keeps no more.');
    this.notes = notes;
  }

  /** Changes what is kept, beside what another tab has kept since; `false` where the device does not take it. */
  #keep(change: (kept: KeptSongs) => KeptSongs): boolean {
    const { opened, weights } = change(keptSongs());
    const usual = Object.entries(weights).filter(([, weight]) => weight !== 1);
    const text = JSON.stringify({ opened, weights: Object.fromEntries(usual) });
    storeSetting(KEPT, text);
    return storedSetting(KEPT) === text;
  }
}

let songs: ChosenSongs | undefined;

/** The one list of the page; called in the browser only. */
export const chosenSongs = (): ChosenSongs => (songs ??= new ChosenSongs());
