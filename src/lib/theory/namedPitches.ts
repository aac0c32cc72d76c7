/**
 * What pitches that sound together are called: a chord, or where no chord is heard an interval, a
 * cluster, a stack of fourths.
 */
import { prettyName, prettySymbol } from './display';
import { intervalName } from './intervalName';
import { namesOf, type ChordName, type NamingOptions } from './names';
import { pcSetOf, sizeOf } from './pcset';
import { chromaOf, type Midi } from './pitch';
import { nameInKey } from './spelling';
import { plainName } from './toneNames';

export interface NamedPitches {
  /** Best first; none for fewer than two pitch classes, and where no chord is heard. */
  readonly names: readonly ChordName[];
  /**
   * The interval of exactly two pitch classes, or of one in octaves; a cluster or a stack of fourths
   * with its notes.
   */
  readonly interval?: string;
  /** What two notes are of the chord that is heard first: `3 over 5 of C`. */
  readonly reading?: string;
}

/** Semitones from each pitch to the next different one, low to high. */
function steps(pitches: readonly Midi[]): { sorted: Midi[]; between: number[] } {
  const sorted = [...new Set(pitches)].sort((a, b) => a - b);
  return { sorted, between: sorted.slice(1).map((pitch, index) => pitch - (sorted[index] ?? 0)) };
}

/**
 * Three or more notes side by side are a cluster. Two whole tones are a third with its ninth between,
 * and are named so.
 */
const isCluster = (between: readonly number[]): boolean =>
  between.length >= 2 &&
  between.every((step) => step <= 2) &&
  (between.length > 2 || between.includes(1));

/** Three or four notes in perfect fourths; five have a third in them, and are a chord. */
const isFourths = (between: readonly number[]): boolean =>
  (between.length === 2 || between.length === 3) && between.every((step) => step === 5);

/** `3 over 5 of C`: the upper and the lower note as degrees of a chord of which they are two. */
function readingOf(low: Midi, high: Midi, { tones, symbol }: ChordName): string | undefined {
  const at = (midi: Midi): string | undefined =>
    tones.find(({ chroma }) => chroma === chromaOf(midi))?.degree;
  const [upper, lower] = [at(high), at(low)];
  if (upper === undefined || lower === undefined) return undefined;
  const chord = prettySymbol(symbol.replace(/\/.*$/, '').replace(/\(no.*\)$/, ''));
  return `${prettySymbol(upper)} over ${prettySymbol(lower)} of ${chord}`;
}

/** Names pitches, in any order and as often as they come. */
export function namedPitches(pitches: readonly Midi[], options: NamingOptions = {}): NamedPitches {
  const set = pcSetOf(pitches);
  const { sorted, between } = steps(pitches);
  const low = sorted[0] ?? 0;
  const high = sorted.at(-1) ?? 0;
  if (isCluster(between) || isFourths(between)) {
    const { key } = options;
    const notes = sorted
      .map((midi) => (key ? nameInKey(chromaOf(midi), key) : plainName(chromaOf(midi))))
      .map((name) => prettyName(name))
      .join(' ');
    const intervals = between.map((step) => intervalName(0, step)).join(', ');
    const interval = isFourths(between)
      ? `stack of fourths: ${notes}`
      : `cluster: ${notes} (${intervals})`;
    return { names: [], interval };
  }
  if (sizeOf(set) < 2)
    return pitches.length > 1 ? { names: [], interval: intervalName(low, high) } : { names: [] };
  const names = namesOf(set, chromaOf(low), options);
  if (sizeOf(set) > 2) return { names };
  const reading = names[0] && readingOf(low, high, names[0]);
  return {
    names,
    interval: intervalName(low, high),
    ...(reading === undefined ? {} : { reading }),
  };
}
