/**
 * What was under way to the device when a page was left. A browser gives a page that goes no time to end a
 * transaction, but takes a text at once; the next page that starts writes it where it belongs.
 */
import { isRecord } from '$lib/setup/parsed';
import type { Change } from './storedDocument';

export interface Left {
  readonly kind: string;
  /** The revision that it is to be written on; 0 for a document that is new. */
  readonly on: number;
  readonly change: Change;
  /** The text before it, if the document is not new. */
  readonly before?: string;
}

const PREFIX = 'gripwright-left-';
/** What one page lays down; tabs that are closed at once must not overwrite one another. */
export class LeftByPage {
  #key: string | undefined;

  lay(left: readonly Left[]): void {
    if (left.length === 0) {
      this.forget();
      return;
    }
    try {
      this.#key ??= `${PREFIX}${crypto.randomUUID()}`;
      localStorage.setItem(this.#key, JSON.stringify(left));
    } catch {
      // there is no room, or no leave: the write that is under way may still get through
    }
  }

  /** The page goes on, and writes by itself. */
  forget(): void {
    if (this.#key === undefined) return;
    try {
      localStorage.removeItem(this.#key);
    } catch {
      // nothing was laid down
    }
    this.#key = undefined;
  }
}

function leftIn(text: string | null): Left[] {
  try {
    const all: unknown = JSON.parse(text ?? '');
    return Array.isArray(all)
      ? all.filter(
          (each): each is Left =>
            isRecord(each) && typeof each.on === 'number' && isRecord(each.change),
        )
      : [];
  } catch {
    return [];
  }
}

/**
 * Hands over what pages before this one have left of a kind. It stays laid down until it is written, for
 * this page may be left in the middle of that too.
 */
export async function takeLeft(
  kind: string,
  write: (left: Left) => Promise<boolean>,
): Promise<void> {
  try {
    for (const key of Object.keys(localStorage).filter((each) => each.startsWith(PREFIX))) {
      const all = leftIn(localStorage.getItem(key));
      const still: Left[] = [];
      for (const each of all) if (each.kind !== kind || !(await write(each))) still.push(each);
      if (still.length === 0) localStorage.removeItem(key);
      else if (still.length < all.length) localStorage.setItem(key, JSON.stringify(still));
    }
  } catch {
    // nothing can be laid down here
  }
}
