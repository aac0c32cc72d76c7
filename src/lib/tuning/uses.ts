/**
 * Which voicings a tuning is for. The bar transposes all of them alike, so a chord's root says nothing
 * here: a use is a combination and a grip, with what each tone is in its chord.
 */
import { defaultMatch } from '$lib/theory/allowedSets';
import type { Chord } from '$lib/theory/chord';
import { readChord } from '$lib/theory/readChord';
import { toneAt } from '$lib/theory/toneNames';
import type { Engaged, Setup } from '$lib/setup/setup';
import { compile } from '$lib/engine/instrument';
import { rankedVoicings } from '$lib/engine/rankedVoicings';
import { EVEN } from '$lib/effort/weights';
import { EVERYDAY_REPERTOIRE, type Repertoire } from '$lib/theory/repertoire';

export interface Use {
  /** Canonical symbol of the chord. */
  readonly symbol: string;
  readonly neck: number;
  readonly fret: number;
  readonly engaged: readonly Engaged[];
  /** From 1, ascending. */
  readonly strings: readonly number[];
  /** Degree of each string's tone. */
  readonly tones: readonly string[];
  /** Degrees of the whole chord. */
  readonly degrees: readonly string[];
  /** How much it counts. */
  readonly weight: number;
}

/** A chord to be tuned for, and how much it counts. */
export interface UsedChord {
  readonly chord: Chord;
  readonly weight: number;
}

/** Hand positions of a chord that are looked at, and grips at each: what is really played. */
const POSITIONS = 4;
const GRIPS = 3;
/** Twelve frets hold all there is: beyond them everything comes again. */
const LAST_FRET = 11;

/**
 * The easiest ways to play a chord on a neck: up to four combinations, up to three grips each. Easier
 * ones count more, by 1/(1 + effort); together they have the weight of their chord.
 */
export function usesOf(setup: Setup, neck: number, { chord, weight }: UsedChord): Use[] {
  const found = rankedVoicings(compile(setup), {
    chord,
    necks: [neck],
    frets: [0, Math.min(LAST_FRET, setup.frets)],
    sizes: [Math.min(3, chord.tones.length), 4],
    match: defaultMatch(chord),
    without: [],
    slants: false,
    balance: EVEN,
  });
  const gripsAt = new Map<number, number>();
  const uses: Use[] = [];
  const degrees = chord.tones.map(({ degree }) => degree);
  for (let index = 0; index < found.count; index++) {
    const position = found.positionAt(index);
    const grips = gripsAt.get(position) ?? 0;
    if (grips === GRIPS || (grips === 0 && gripsAt.size === POSITIONS)) continue;
    gripsAt.set(position, grips + 1);
    const { voicing, effort } = found.at(index);
    uses.push({
      symbol: chord.symbol,
      neck,
      fret: voicing.fret,
      engaged: voicing.ways[0] ?? [],
      strings: voicing.strings,
      tones: voicing.pitches.map((midi) => toneAt(chord.tones, midi)?.degree ?? '1'),
      degrees,
      weight: 1 / (1 + effort.total),
    });
  }
  const sum = uses.reduce((total, use) => total + use.weight, 0);
  return uses.map((use) => ({ ...use, weight: (weight * use.weight) / sum }));
}

/** The chords of a repertoire, on C: the bar makes all roots one. Their weights add up to one. */
export function chordsOf(repertoire: Repertoire = EVERYDAY_REPERTOIRE): UsedChord[] {
  const sum = repertoire.reduce((total, { weight }) => total + weight, 0);
  return repertoire.flatMap(({ type, weight }) => {
    const read = readChord(`C${type}`);
    return read.ok && read.value !== 'no chord'
      ? [{ chord: read.value, weight: weight / sum }]
      : [];
  });
}
