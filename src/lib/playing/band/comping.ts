/** Chords behind the strings: tones of the chord alone, in the middle, each voice going on to the nearest. */
import type { Chord } from '$lib/theory/chord';
import { chromaOf, type Chroma } from '$lib/theory/pitch';
import type { ChordSpan, Hit, Pitched } from './hits';

/** C3 to A4: above the bass, and around the lower strings of a steel. */
const RANGE = [48, 69] as const;
/** About where the voices lie where nothing came before. */
const MIDDLE = 57;
/** Voices at most. */
const VOICES = 4;
/** Semitones from lowest to highest. */
const WIDEST = 17;
const SAME = 1e-6;
const USUAL = 0.5;
const NEAREST_VOICES = 2;

/**
 * The pitch classes that are played of a chord, at most four. The bass has what stands after a slash, and the
 * root where the chord has more tones than voices; a perfect fifth says least and goes first.
 */
function compedTones({ tones }: Chord, transposed: number): Chroma[] {
  let own = tones.filter(({ role }) => role !== 'bass');
  for (const goes of ['fifth', 'root', 'extension'] as const) {
    if (own.length <= VOICES) break;
    own = own.filter(({ role, must }) => role !== goes || (must && goes !== 'extension'));
  }
  return own.slice(0, VOICES).map(({ chroma }) => chromaOf(chroma + transposed));
}

/** All ways to lay pitch classes into the range, each in one octave. */
function* layings(tones: readonly Chroma[]): Generator<number[]> {
  const [first, ...rest] = tones;
  if (first === undefined) {
    yield [];
    return;
  }
  for (let midi = RANGE[0] + chromaOf(first - RANGE[0]); midi <= RANGE[1]; midi += 12)
    for (const others of layings(rest)) yield [midi, ...others].sort((a, b) => a - b);
}

/** Semitones in all from each voice to the nearest of the chord before; how far from the middle where none was. */
function way(voicing: readonly number[], before: readonly number[]): number {
  const middle = voicing.reduce((sum, midi) => sum + midi, 0) / voicing.length;
  const moved = voicing.reduce((sum, midi) => {
    const ways = before.map((each) => Math.abs(each - midi));
    return sum + (ways.length === 0 ? 0 : Math.min(...ways));
  }, 0);
  return moved + Math.abs(middle - MIDDLE) / 4;
}

/** A semitone low in a chord is mud. */
const isClear = (voicing: readonly number[]): boolean =>
  voicing.every((midi, at) => at === 0 || midi - (voicing[at - 1] ?? 0) >= NEAREST_VOICES);

/** The voicing of a chord that lies nearest to the one before, lowest first. */
export function voiced(chord: Chord, before: readonly number[], transposed = 0): number[] {
  const tones = compedTones(chord, transposed);
  const all = [...layings(tones)].filter((each) => (each.at(-1) ?? 0) - (each[0] ?? 0) <= WIDEST);
  const clear = all.filter(isClear);
  let best: readonly number[] = [];
  let least = Infinity;
  for (const each of clear.length > 0 ? clear : all) {
    const cost = way(each, before);
    if (cost < least - SAME) [best, least] = [each, cost];
  }
  return [...best];
}

/** What is comped, in order of time: nothing sounds into another chord, and every chord is heard. */
export function comping(
  hits: readonly Hit[],
  spans: readonly ChordSpan[],
  transposed: number,
): Pitched[] {
  let before: readonly number[] = [];
  return spans.flatMap(({ chord, from, until }): Pitched[] => {
    if (chord === 'no chord') return [];
    const pitches = voiced(chord, before, transposed);
    before = pitches;
    const own = hits.filter(({ at }) => at >= from - SAME && at < until - SAME);
    const played =
      own.length > 0
        ? own
        : [{ at: from, lasts: Math.min(USUAL, until - from), level: 0.6, letter: 'x' }];
    return played.flatMap(({ at, lasts, level }, index) => {
      const room = (played[index + 1]?.at ?? until) - at;
      return pitches.map((midi) => ({ at, lasts: Math.min(lasts, room), level, midi }));
    });
  });
}
