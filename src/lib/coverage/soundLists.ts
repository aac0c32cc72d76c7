/**
 * The sounds that tell one setup from another: those that the other cannot make, and those that it
 * makes with more effort. `sounds.ts` says what one sound is; it is counted once for every chord type
 * of the repertoire that it says.
 */
import { allowedSets, defaultMatch } from '$lib/theory/allowedSets';
import type { Chord } from '$lib/theory/chord';
import { chromaOf, chromaOfName, type Chroma, type Midi } from '$lib/theory/pitch';
import { commonRoot, type Key } from '$lib/theory/spelling';
import { voicingAt } from '$lib/search/voicing';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { effortOfVoicing } from '$lib/engine/rank';
import type { Repertoire } from '$lib/theory/repertoire';
import { packedEffort, patternTypes, sourceOf, type Pattern, type Sounds } from './sounds';
import { chordWith } from '$lib/theory/wantedType';

/** A pattern in which the setups differ, with the chord it is in the key that was asked for. */
export interface ComparedSound {
  readonly type: string;
  readonly chord: Chord;
  /** How to make it on the setup that the list is about. */
  readonly here: RankedVoicing;
  /** … and on the other one, where it can. */
  readonly there?: RankedVoicing;
  /** Sounds of this pattern that belong to the list: the same at other heights. */
  readonly heights: number;
  /** The other setup has the pattern at no height at all. */
  readonly unknownThere: boolean;
}

/** How many sounds of a type are in a list, and of how many patterns. */
export interface TypeCount {
  readonly type: string;
  readonly count: number;
  readonly patterns: number;
}

export interface SoundList {
  /** Every sound, whatever is shown of them. */
  readonly count: number;
  readonly byType: readonly TypeCount[];
  /** Patterns, each of one type; one entry stands for all heights. */
  readonly patterns: number;
  /** Some entries from an index on, most telling first; of one type only where that is named. */
  entries(from: number, most: number, type?: string): ComparedSound[];
}

/** One height of a pattern with the easiest ways to it, packed; `Infinity` where there is none. */
interface Height {
  readonly low: Midi;
  readonly here: number;
  readonly there: number;
}

interface Entry {
  readonly type: string;
  readonly roots: readonly number[];
  readonly shown: Height;
  readonly heights: number;
  readonly unknownThere: boolean;
  /** Of the height that is shown. */
  readonly worth: number;
  readonly weight: number;
}

/**
 * What a sound is worth to a player, in thousandths: the effort that it saves, less the effort that
 * it still takes. Where the other setup has not got it, the effort counts alone.
 */
function worthOf({ here, there }: Height): number {
  const effort = packedEffort(here);
  return there === Infinity ? -effort : packedEffort(there) - 2 * effort;
}

/** New patterns come first, then what is worth most, then usual types, then deep sounds. */
const moreTelling = (a: Entry, b: Entry): number =>
  Number(b.unknownThere) - Number(a.unknownThere) ||
  b.worth - a.worth ||
  b.weight - a.weight ||
  a.shown.low - b.shown.low;

/** Of all heights of a pattern the one to show: with the tonic as root where it can, worth most. */
function shownOf(heights: readonly Height[], roots: readonly number[], tonic: Chroma): Height {
  const onTonic = ({ low }: Height): number =>
    Number(roots.some((root) => chromaOf(low + root) === tonic));
  const [first, ...rest] = heights;
  if (first === undefined) throw new Error('a pattern without heights is in no list');
  return rest.reduce((best, each) => {
    const better =
      onTonic(each) - onTonic(best) || worthOf(each) - worthOf(best) || best.here - each.here;
    return better > 0 ? each : best;
  }, first);
}

/** The heights of a pattern that only one setup has, and those that it makes with less effort. */
function heightsOf(here: Pattern, there: Pattern | undefined): Record<Kind, Height[]> {
  const heights: Record<Kind, Height[]> = { only: [], easier: [] };
  here.easiest.forEach((source, low) => {
    if (source === Infinity) return;
    const other = there?.easiest[low] ?? Infinity;
    const height: Height = { low, here: source, there: other };
    if (other === Infinity) heights.only.push(height);
    else if (packedEffort(source) < packedEffort(other)) heights.easier.push(height);
  });
  return heights;
}

type Kind = 'only' | 'easier';

interface Asked {
  readonly here: Sounds;
  readonly there: Sounds;
  readonly repertoire: Repertoire;
  readonly key: Key;
}

/** The two lists about one setup, by comparison with another. */
export function soundLists(asked: Asked): Record<Kind, SoundList> {
  const weights = new Map(asked.repertoire.map(({ type, weight }) => [type, weight]));
  const typesOf = patternTypes(asked.repertoire);
  const tonic = chromaOfName(asked.key.tonic);
  const entries: Record<Kind, Entry[]> = { only: [], easier: [] };
  for (const [number, pattern] of asked.here.patterns) {
    const other = asked.there.patterns.get(number);
    const found = heightsOf(pattern, other);
    for (const kind of ['only', 'easier'] as const) {
      const heights = found[kind];
      if (heights.length === 0) continue;
      for (const { type, roots } of typesOf(pattern)) {
        const shown = shownOf(heights, roots, tonic);
        entries[kind].push({
          type,
          roots,
          shown,
          heights: heights.length,
          unknownThere: other === undefined,
          worth: worthOf(shown),
          weight: weights.get(type) ?? 0,
        });
      }
    }
  }
  return { only: listOf(asked, entries.only), easier: listOf(asked, entries.easier) };
}

function listOf(asked: Asked, entries: Entry[]): SoundList {
  entries.sort(moreTelling);
  const byType = asked.repertoire.flatMap(({ type }): TypeCount[] => {
    const own = entries.filter((each) => each.type === type);
    const count = own.reduce((sum, { heights }) => sum + heights, 0);
    return count === 0 ? [] : [{ type, count, patterns: own.length }];
  });
  return {
    count: byType.reduce((sum, { count }) => sum + count, 0),
    byType,
    patterns: entries.length,
    entries: (from, most, type) =>
      (type === undefined ? entries : entries.filter((each) => each.type === type))
        .slice(from, from + most)
        .map((entry) => comparedSound(asked, entry)),
  };
}

/** The chord that a pattern is at a height: on the tonic where it can be. */
function chordAt({ key }: Asked, { type, roots, shown }: Entry): Chord {
  const chromas = roots.map((root) => chromaOf(shown.low + root));
  const tonic = chromaOfName(key.tonic);
  const chroma = chromas.find((each) => each === tonic) ?? chromas[0] ?? 0;
  return chordWith(chroma === tonic ? key.tonic : commonRoot(chroma, type), type);
}

function ranked({ shapes }: Sounds, chord: Chord, source: number): RankedVoicing {
  const { neck, shape, fret } = sourceOf(shapes, source);
  const voicing = voicingAt(neck.index, shape, fret, allowedSets(chord, defaultMatch(chord)));
  return { voicing, effort: effortOfVoicing(shapes.instrument, voicing) };
}

function comparedSound(asked: Asked, entry: Entry): ComparedSound {
  const chord = chordAt(asked, entry);
  const { here, there } = entry.shown;
  return {
    type: entry.type,
    chord,
    here: ranked(asked.here, chord, here),
    ...(there === Infinity ? {} : { there: ranked(asked.there, chord, there) }),
    heights: entry.heights,
    unknownThere: entry.unknownThere,
  };
}
