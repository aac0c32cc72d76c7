/** The names on an atlas: each pair of sound and bass is named once, and each name is told once. */
import { prettyName, prettySymbol, spokenName, spokenSymbol } from '$lib/theory/display';
import type { Chord } from '$lib/theory/chord';
import { namesOf, type ChordName } from '$lib/theory/names';
import { numeralOf, type Numeral } from '$lib/theory/numeral';
import { sizeOf, transpose, type PcSet } from '$lib/theory/pcset';
import { chromaOf, chromaOfName, type Chroma } from '$lib/theory/pitch';
import type { Key } from '$lib/theory/spelling';
import { homeRoot, homeSixth } from '$lib/setup/homeChord';
import { spelledBy } from '$lib/setup/spelledBy';
import type { Neck } from '$lib/setup/setup';

export interface AtlasName {
  /** With real signs: `C♯m7`, and apart from it the bass, `/E`; empty where the root is lowest. */
  readonly text: string;
  readonly bass: string;
  readonly spoken: string;
  /** As a degree of the key; left out where no key is set. */
  readonly numeral?: Numeral;
  /** Tones that are left out or added; 0 for a whole chord. */
  readonly changes: number;
}

/** One pitch class has no chord to name; it stands behind everything that has. */
const NO_CHORD = 64;

const changesOf = ({ missing, added }: ChordName): number => missing.length + added.length;

// by set above a bass of 0; 0 is not looked up yet, n stands for n − 1
const distances = new Uint8Array(4096);

/**
 * How far the best name of a sound is from a whole chord: twice the tones that it leaves out or adds,
 * and one more where another tone than the root is lowest. The same wherever the bar lies.
 */
export function nameDistance(set: PcSet, bass: Chroma): number {
  const above = transpose(set, -bass);
  const known = distances[above] as number;
  if (known > 0) return known - 1;
  const [best] = sizeOf(above) < 2 ? [] : namesOf(above, 0, { limit: 1 });
  const distance =
    best === undefined
      ? 2 * NO_CHORD
      : 2 * changesOf(best) + (chromaOfName(best.root) === 0 ? 0 : 1);
  distances[above] = distance + 1;
  return distance;
}

export class AtlasNames {
  readonly #neck: Neck;
  readonly #key: Key | undefined;
  readonly #all: AtlasName[] = [];
  readonly #indexes = new Map<string, number>();
  readonly #home: Chroma | undefined;
  readonly #sixth: Chroma | undefined;
  // by set and bass and how far the bar's own chord lies above it
  readonly #named = new Map<number, number>();

  constructor(neck: Neck, key: Key | undefined) {
    this.#neck = neck;
    this.#key = key;
    this.#home = homeRoot(neck);
    this.#sixth = homeSixth(neck);
  }

  get all(): readonly AtlasName[] {
    return this.#all;
  }

  #best(set: PcSet, bass: Chroma, home?: Chroma, sixth?: Chroma): ChordName | undefined {
    if (sizeOf(set) < 2) return undefined;
    return namesOf(set, bass, {
      limit: 1,
      ...(this.#key ? { key: this.#key } : {}),
      ...(home === undefined ? {} : { home }),
      ...(sixth === undefined ? {} : { sixth }),
    })[0];
  }

  /**
   * The index, among all, of the best name with the bar at a fret.
   *
   * @param second the root of the neck's second home at the nut, in which it is
   */
  at(set: PcSet, bass: Chroma, fret: number, second = this.#sixth): number {
    const under = (root: Chroma | undefined): Chroma | undefined =>
      root === undefined ? undefined : chromaOf(root + fret);
    const [home, sixth] = [under(this.#home), under(second)];
    const at = ((set * 12 + bass) * 13 + (home ?? 12)) * 13 + (sixth ?? 12);
    const known = this.#named.get(at);
    if (known !== undefined) return known;
    const name = this.#nameOf(set, bass, home, sixth);
    // a single note is written as the chord on it is, and spoken otherwise
    const words = `${name.text}${name.bass} ${name.spoken}`;
    let index = this.#indexes.get(words);
    if (index === undefined) {
      index = this.#all.push(name) - 1;
      this.#indexes.set(words, index);
    }
    this.#named.set(at, index);
    return index;
  }

  #nameOf(set: PcSet, bass: Chroma, home?: Chroma, sixth?: Chroma): AtlasName {
    const best = this.#best(set, bass, home, sixth);
    if (best === undefined) {
      const note = spelledBy(this.#neck, this.#key)(bass);
      return {
        text: prettyName(note),
        bass: '',
        spoken: `${spokenName(note)} alone`,
        changes: NO_CHORD,
      };
    }
    return { ...this.ofChord(best), changes: changesOf(best) };
  }

  /** A chord as it stands on the atlas. */
  ofChord(chord: Pick<Chord, 'root' | 'type' | 'bass' | 'symbol'>): AtlasName {
    const symbol = prettySymbol(chord.symbol);
    const slash = chord.bass ? `/${prettyName(chord.bass)}` : '';
    const isSlashed = slash !== '' && symbol.endsWith(slash);
    return {
      text: isSlashed ? symbol.slice(0, -slash.length) : symbol,
      bass: isSlashed ? slash : '',
      spoken: spokenSymbol(chord),
      ...(this.#key ? { numeral: numeralOf(chord, this.#key) } : {}),
      changes: 0,
    };
  }
}
