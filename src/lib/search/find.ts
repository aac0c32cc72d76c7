/**
 * Which voicings of an index are wanted, at which frets. The answer is pairs of numbers; what they
 * mean is said by `voicingAt`.
 */
import { transpose, type PcSet } from '$lib/theory/pcset';
import { chromaOf, type Chroma, type Midi } from '$lib/theory/pitch';
import { gripSize } from './grip';
import type { NutIndex } from './nutIndex';

/** One pitch-class set that satisfies the wanted chord. */
export interface WantedSet {
  readonly set: PcSet;
  /** Degrees of the chord that it lacks. */
  readonly missing: readonly string[];
  /** Only grips of so many strings may say it; any where left out. */
  readonly strings?: number;
}

/** A note to be on top or lowest: in every octave, or one pitch alone. */
export type WantedNote = { readonly chroma: Chroma } | { readonly midi: Midi };

export interface Wanted {
  readonly sets: readonly WantedSet[];
  /** What must sound lowest; all of them must hold. */
  readonly lowest?: readonly WantedNote[];
  readonly highest?: WantedNote;
  /** What must sound, neither more nor less, on one string or several; ascending. */
  readonly pitches?: readonly Midi[];
  /** First and last fret. */
  readonly frets: readonly [number, number];
}

/** Voicing `voicing[i]` of the index with the bar at `fret[i]`. Unordered. */
export interface Found {
  readonly voicing: Uint32Array;
  readonly fret: Uint8Array;
  /** Which of the wanted sets it sounds. */
  readonly set: Uint8Array;
  readonly count: number;
}

/** Is a pitch the wanted note? */
export const isNote = (pitch: Midi, wanted: WantedNote): boolean =>
  'midi' in wanted ? pitch === wanted.midi : chromaOf(pitch) === wanted.chroma;

/** All of them: exhaustive over the index and the asked frets. */
export function find(index: NutIndex, wanted: Wanted): Found {
  const { from, byPcs, slant, grip } = index;
  const [firstFret, lastFret] = wanted.frets;
  const lowest = wanted.lowest ?? [];
  const { highest, pitches } = wanted;
  const looksInside = lowest.length > 0 || highest !== undefined;

  // an upper bound of what can be found, so that the columns never grow
  let most = 0;
  for (let fret = firstFret; fret <= lastFret; fret++)
    for (const { set } of wanted.sets) {
      const atNut = transpose(set, -fret);
      most += (from[atNut + 1] ?? 0) - (from[atNut] ?? 0);
    }
  const foundVoicing = new Uint32Array(most);
  const foundFret = new Uint8Array(most);
  const foundSet = new Uint8Array(most);
  let count = 0;

  for (let fret = firstFret; fret <= lastFret; fret++)
    for (let number = 0; number < wanted.sets.length; number++) {
      const { set, strings } = wanted.sets[number] as WantedSet;
      const atNut = transpose(set, -fret);
      const end = from[atNut + 1] as number;
      for (let at = from[atNut] as number; at < end; at++) {
        const voicing = byPcs[at] as number;
        if (strings !== undefined && gripSize(grip[voicing] as number) !== strings) continue;
        if (
          slant[voicing] !== 0 &&
          !slantFits(index.slantAt(voicing)?.ahead ?? [], fret, wanted.frets)
        )
          continue;
        if (pitches !== undefined && !areExactly(index.pitchesAtNut(voicing), fret, pitches))
          continue;
        if (looksInside) {
          if (highest !== undefined && !isNote(index.highestOf(voicing) + fret, highest)) continue;
          const low = index.lowestOf(voicing) + fret;
          if (!lowest.every((note) => isNote(low, note))) continue;
        }
        foundVoicing[count] = voicing;
        foundFret[count] = fret;
        foundSet[count] = number;
        count++;
      }
    }
  return {
    voicing: foundVoicing.subarray(0, count),
    fret: foundFret.subarray(0, count),
    set: foundSet.subarray(0, count),
    count,
  };
}

/** Do pitches at the nut sound all of these at a fret, and no others? */
function areExactly(atNut: readonly Midi[], fret: number, wanted: readonly Midi[]): boolean {
  return (
    atNut.every((pitch) => wanted.includes(pitch + fret)) &&
    wanted.every((pitch) => atNut.includes(pitch - fret))
  );
}

/** A slanted bar lies on the neck between fret 1 and the last; at the nut there is no bar to turn. */
export function slantFits(
  ahead: readonly number[],
  fret: number,
  [first, last]: readonly [number, number],
): boolean {
  return ahead.every((frets) => fret + frets >= Math.max(1, first) && fret + frets <= last);
}

/** The frets, first to last, at which a slanted bar (by its `ahead`), or a straight one, lies on the neck. */
export function fretsFor(
  ahead: readonly number[] | undefined,
  [first, last]: readonly [number, number],
): number[] {
  const frets = Array.from({ length: last - first + 1 }, (_, index) => first + index);
  return ahead === undefined
    ? frets
    : frets.filter((fret) => slantFits(ahead, fret, [first, last]));
}
