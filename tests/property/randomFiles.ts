/**
 * Files by the hundred thousand, from a seed: good setups, good setups with a few odd values put in
 * somewhere, and nonsense. Made for speed; what fails is told by its number.
 */
export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

const STATIONS = [
  ...Array.from({ length: 12 }, (_, index) => `P${index + 1}`),
  ...['LKL', 'LKV', 'LKR', 'RKL', 'RKV', 'RKR'],
  ...['LKL2', 'LKV2', 'LKR2', 'RKL2', 'RKV2', 'RKR2', 'WRIST', 'PALM1', 'PALM2'],
];
const SIGNS = ['', '#', 'b', '##', 'bb'];
const TEXTS = ['', 'x', '<b>bold</b>', '"', '\\', '\u2028', '♯', '🎸', 'e\u0301', '\u0000', ' '];
const KEYS = ['__proto__', 'constructor', 'open', 'half', 'never', 'also', 'drops', 'leverage', ''];

export class RandomFiles {
  readonly #random: () => number;

  /** From a source of numbers from 0 up to 1. */
  constructor(random: () => number) {
    this.#random = random;
  }

  #whole(least: number, most: number): number {
    return least + Math.floor(this.#random() * (most - least + 1));
  }
  #of<T>(list: readonly T[]): T {
    return list[this.#whole(0, list.length - 1)] as T;
  }
  #chance(of: number): boolean {
    return this.#random() < of;
  }
  #list<T>(least: number, most: number, make: (index: number) => T): T[] {
    return Array.from({ length: this.#whole(least, most) }, (_, index) => make(index));
  }

  /** A file, nearly always an object. */
  file(): Json {
    if (this.#chance(0.02)) return this.#odd(3);
    const file = this.#setup();
    if (this.#chance(0.6))
      for (let faults = this.#whole(1, 3); faults > 0; faults--) this.#spoil(file);
    return file;
  }

  #text(): string {
    return this.#of(TEXTS) + this.#of(TEXTS) + this.#of(TEXTS) + 'n';
  }

  #setup(): { [key: string]: Json } {
    const necks = this.#list(1, 2, () => ({
      name: this.#text(),
      ...(this.#chance(0.1) ? { notes: this.#text() } : {}),
      strings: this.#list(1, 6, () => ({
        open: `${this.#of(['A', 'B', 'C', 'D', 'E', 'F', 'G'])}${this.#of(SIGNS)}${this.#whole(1, 6)}`,
        ...(this.#chance(0.3) ? { gauge: this.#whole(8, 70) / 1000 } : {}),
        ...(this.#chance(0.2) ? { wound: this.#chance(0.5) } : {}),
        ...(this.#chance(0.2) ? { cents: this.#whole(-200, 200) / 10 } : {}),
      })),
    }));
    const format = this.#whole(1, 2);
    const stations = STATIONS.slice(0, format === 1 ? 18 : STATIONS.length).filter(() =>
      this.#chance(0.15),
    );
    const { length } = necks;
    return {
      format,
      name: this.#text(),
      ...(this.#chance(0.3) ? { notes: this.#text() } : {}),
      ...(this.#chance(0.5) ? { frets: this.#whole(0, 36) } : {}),
      ...(this.#chance(0.3) ? { scaleLengthMm: this.#whole(2000, 15000) / 10 } : {}),
      ...(this.#chance(0.3) ? { referenceHz: this.#whole(300, 600) } : {}),
      ...(this.#chance(0.3) ? { reach: { pedalsAtOnce: this.#whole(1, 4) } } : {}),
      necks,
      controls: stations.map((station) => {
        const neck = this.#whole(1, length);
        const count = necks[neck - 1]?.strings.length ?? 1;
        return {
          id: station,
          station,
          ...(format === 2 && this.#chance(0.2)
            ? {
                travelMm: this.#whole(20, 60),
                slackMm: this.#whole(0, 19),
                usage: this.#whole(0, 9),
              }
            : {}),
          pulls: Array.from({ length: count }, (_, index) => index + 1)
            .filter(() => this.#chance(0.4))
            .map((string) => {
              const semitones = this.#whole(1, 7) * (this.#chance(0.5) ? 1 : -1);
              const halfway = Math.abs(semitones) > 1 && this.#chance(0.3);
              return {
                ...(neck > 1 || this.#chance(0.2) ? { neck } : {}),
                string,
                semitones,
                ...(halfway ? { half: Math.sign(semitones) } : {}),
              };
            }),
        };
      }),
    };
  }

  /** Any value at all. */
  #odd(depth: number): Json {
    const kind = this.#whole(0, depth > 0 ? 9 : 6);
    if (kind === 0) return null;
    if (kind === 1) return this.#chance(0.5);
    if (kind < 4) return this.#of([0, -0, 1, -1, 0.5, 7, 8, 14, 15, 1e9, -1e300, 5e-324]);
    if (kind < 7) return this.#of([...TEXTS, 'P1', 'LKL', 'C4', 'H9', '1', 'true']);
    if (kind === 7) return this.#list(0, 3, () => this.#odd(depth - 1));
    return Object.fromEntries(this.#list(0, 3, () => [this.#of(KEYS), this.#odd(depth - 1)]));
  }

  /** Changes, adds or takes away something at some place. */
  #spoil(within: Json): void {
    if (Array.isArray(within)) {
      const at = this.#whole(0, within.length);
      const item = within[at];
      if (typeof item === 'object' && item !== null && this.#chance(0.8)) this.#spoil(item);
      else if (this.#chance(0.3)) within.splice(at, 1);
      else within[at] = this.#chance(0.3) && item !== undefined ? item : this.#odd(2);
    } else if (typeof within === 'object' && within !== null) {
      const key = this.#of([...Object.keys(within), ...(this.#chance(0.1) ? KEYS : [])]);
      const value = Object.hasOwn(within, key) ? within[key] : undefined;
      if (typeof value === 'object' && value !== null && this.#chance(0.8)) this.#spoil(value);
      else if (this.#chance(0.2)) delete within[key];
      else
        Object.defineProperty(within, key, {
          value: this.#odd(2),
          enumerable: true,
          configurable: true,
          writable: true,
        });
    }
  }
}
