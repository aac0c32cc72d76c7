/**
 * Files by the hundred thousand, from a seed: good setups, good setups with a few odd values put in
 * somewhere, and nonsense. Made for speed; what fails is told by its number.
 */
import { Picker } from '../picker';

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
  readonly #pick: Picker;

  /** From a source of numbers from 0 up to 1. */
  constructor(random: () => number) {
    this.#pick = new Picker(random);
  }

  /** A file, nearly always an object. */
  file(): Json {
    if (this.#pick.chance(0.02)) return this.#odd(3);
    const file = this.#setup();
    if (this.#pick.chance(0.6))
      for (let faults = this.#pick.whole(1, 3); faults > 0; faults--) this.#spoil(file);
    return file;
  }

  #text(): string {
    return this.#pick.of(TEXTS) + this.#pick.of(TEXTS) + this.#pick.of(TEXTS) + 'n';
  }

  #setup(): { [key: string]: Json } {
    const necks = this.#pick.list(1, 2, () => ({
      name: this.#text(),
      ...(this.#pick.chance(0.1) ? { notes: this.#text() } : {}),
      strings: this.#pick.list(1, 6, () => ({
        open: `${this.#pick.of(['A', 'B', 'C', 'D', 'E', 'F', 'G'])}${this.#pick.of(SIGNS)}${this.#pick.whole(1, 6)}`,
        ...(this.#pick.chance(0.3) ? { gauge: this.#pick.whole(8, 70) / 1000 } : {}),
        ...(this.#pick.chance(0.2) ? { wound: this.#pick.chance(0.5) } : {}),
        ...(this.#pick.chance(0.2) ? { cents: this.#pick.whole(-200, 200) / 10 } : {}),
      })),
    }));
    const format = this.#pick.whole(1, 2);
    const stations = STATIONS.slice(0, format === 1 ? 18 : STATIONS.length).filter(() =>
      this.#pick.chance(0.15),
    );
    const { length } = necks;
    return {
      format,
      name: this.#text(),
      ...(this.#pick.chance(0.3) ? { notes: this.#text() } : {}),
      ...(this.#pick.chance(0.5) ? { frets: this.#pick.whole(0, 36) } : {}),
      ...(this.#pick.chance(0.3) ? { scaleLengthMm: this.#pick.whole(2000, 15000) / 10 } : {}),
      ...(this.#pick.chance(0.3) ? { referenceHz: this.#pick.whole(300, 600) } : {}),
      ...(this.#pick.chance(0.3) ? { reach: { pedalsAtOnce: this.#pick.whole(1, 4) } } : {}),
      necks,
      controls: stations.map((station) => {
        const neck = this.#pick.whole(1, length);
        const count = necks[neck - 1]?.strings.length ?? 1;
        return {
          id: station,
          station,
          ...(format === 2 && this.#pick.chance(0.2)
            ? {
                travelMm: this.#pick.whole(20, 60),
                slackMm: this.#pick.whole(0, 19),
                usage: this.#pick.whole(0, 9),
              }
            : {}),
          pulls: Array.from({ length: count }, (_, index) => index + 1)
            .filter(() => this.#pick.chance(0.4))
            .map((string) => {
              const semitones = this.#pick.whole(1, 7) * (this.#pick.chance(0.5) ? 1 : -1);
              const halfway = Math.abs(semitones) > 1 && this.#pick.chance(0.3);
              return {
                ...(neck > 1 || this.#pick.chance(0.2) ? { neck } : {}),
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
    const kind = this.#pick.whole(0, depth > 0 ? 9 : 6);
    if (kind === 0) return null;
    if (kind === 1) return this.#pick.chance(0.5);
    if (kind < 4) return this.#pick.of([0, -0, 1, -1, 0.5, 7, 8, 14, 15, 1e9, -1e300, 5e-324]);
    if (kind < 7) return this.#pick.of([...TEXTS, 'P1', 'LKL', 'C4', 'H9', '1', 'true']);
    if (kind === 7) return this.#pick.list(0, 3, () => this.#odd(depth - 1));
    return Object.fromEntries(
      this.#pick.list(0, 3, () => [this.#pick.of(KEYS), this.#odd(depth - 1)]),
    );
  }

  /** Changes, adds or takes away something at some place. */
  #spoil(within: Json): void {
    if (Array.isArray(within)) {
      const at = this.#pick.whole(0, within.length);
      const item = within[at];
      if (typeof item === 'object' && item !== null && this.#pick.chance(0.8)) this.#spoil(item);
      else if (this.#pick.chance(0.3)) within.splice(at, 1);
      else within[at] = this.#pick.chance(0.3) && item !== undefined ? item : this.#odd(2);
    } else if (typeof within === 'object' && within !== null) {
      const key = this.#pick.of([...Object.keys(within), ...(this.#pick.chance(0.1) ? KEYS : [])]);
      const value = Object.hasOwn(within, key) ? within[key] : undefined;
      if (typeof value === 'object' && value !== null && this.#pick.chance(0.8)) this.#spoil(value);
      else if (this.#pick.chance(0.2)) delete within[key];
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
