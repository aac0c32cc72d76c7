/** Recorded takes, kept on this device in a database of their own, so that large sound endangers nothing else. */
import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import type { BandNote } from '$lib/hearing/bandNotes';
import { ok, refuse, type Result } from '$lib/result';

/** A string that should sound: its note, its pitch in hertz. */
export interface TakeString {
  readonly string: number;
  readonly note: string;
  readonly hz: number;
}

/** A take as it is kept. Times are in seconds from its beginning. */
export interface KeptTake {
  readonly id: string;
  readonly name: string;
  /** When it was recorded, in milliseconds since 1970. */
  readonly when: number;
  readonly sampleRate: number;
  /** 16-bit samples. */
  readonly heard: Int16Array<ArrayBuffer>;
  readonly band?: Int16Array<ArrayBuffer>;
  /** What should sound from the beginning. */
  readonly strings: readonly TakeString[];
  /** What was asked after it, as chords of a piece are; nothing where it was one grip. */
  readonly later?: readonly { readonly from: number; readonly strings: readonly TakeString[] }[];
  /** What the band played, so that it is not taken for the player's; nothing where there was none, or not yet known. */
  readonly bandNotes?: readonly BandNote[];
  readonly referenceHz: number;
  /** When clicks left the program; empty where there were none. */
  readonly beats: readonly number[];
}

interface Tables extends DBSchema {
  takes: { key: string; value: KeptTake };
}

const NAME = 'gripwright-takes';

export interface TakeStore {
  /** From the newest to the oldest. */
  all(): Promise<Result<KeptTake[], string>>;
  keep(take: KeptTake): Promise<Result<undefined, string>>;
  remove(id: string): Promise<Result<undefined, string>>;
}

/** Why a take was not kept, as a sentence. */
export function notKept(error: unknown): string {
  const name = error instanceof Error ? error.name : '';
  return name === 'QuotaExceededError'
    ? 'This device has no room left for the take. It stays here until you leave this page: save it as a file, or delete other takes and keep it then.'
    : 'The take cannot be kept on this device. It stays here until you leave this page: save it as a file.';
}

/** The store in the browser's database. */
export function takeStore(name = NAME): TakeStore {
  let opened: Promise<IDBPDatabase<Tables>> | undefined;
  const database = (): Promise<IDBPDatabase<Tables>> => {
    opened ??= openDB<Tables>(name, 1, {
      upgrade: (made) => void made.createObjectStore('takes', { keyPath: 'id' }),
      terminated: () => (opened = undefined),
    });
    opened.catch(() => (opened = undefined));
    return opened;
  };
  return {
    async all() {
      try {
        const takes = await (await database()).getAll('takes');
        return ok(takes.sort((a, b) => b.when - a.when));
      } catch {
        return refuse('The takes that are kept on this device cannot be read now.');
      }
    },
    async keep(take) {
      try {
        await (await database()).put('takes', take);
        return ok(undefined);
      } catch (error) {
        return refuse(notKept(error));
      }
    },
    async remove(id) {
      try {
        await (await database()).delete('takes', id);
        return ok(undefined);
      } catch {
        return refuse('The take cannot be deleted now.');
      }
    },
  };
}
