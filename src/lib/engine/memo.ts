/** Things worked out once and remembered under a text, as many as there is room for: the latest used stay. */
export class Memo<T> {
  readonly #most: number;
  readonly #known = new Map<string, T>();

  /** @param most how many are remembered */
  constructor(most: number) {
    this.#most = most;
  }

  get(key: string, make: () => T): T {
    let value = this.#known.get(key);
    if (value === undefined) value = make();
    else this.#known.delete(key);
    this.#known.set(key, value);
    if (this.#known.size > this.#most)
      for (const oldest of this.#known.keys()) {
        this.#known.delete(oldest);
        break;
      }
    return value;
  }
}

/**
 * A kind of thing that is worked out about an instrument and remembered with it. The object itself tells
 * kinds apart, so that each module names its own.
 */
export class Cached<T> {
  /** How many of it are remembered with one instrument. */
  readonly most: number;
  /** For the compiler alone: what is remembered. */
  declare readonly of: T;

  constructor(most: number) {
    this.most = most;
  }
}

/**
 * What is worked out about a value that is never changed, remembered with the value itself: no copy of it and nobody
 * who lists or compares it sees that. Each module names its own by a sign.
 *
 * @param make where nothing is remembered yet
 */
export function knownWith<T extends object>(about: object, sign: symbol, make: () => T): T {
  const there = (about as Record<symbol, T | undefined>)[sign];
  if (there !== undefined) return there;
  const value = make();
  if (Object.isExtensible(about)) Object.defineProperty(about, sign, { value });
  return value;
}
