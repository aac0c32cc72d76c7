/** Which chords of a key lie within reach of one bar position. */
import { chromaOfName } from '$lib/theory/pitch';
import { PER_UNIT } from '$lib/effort/effort';
import type { KeyChord } from '$lib/theory/keyChords';
import type { PocketWidth } from './pocketWishes';
import { rowAt, typeFretsOf, type Wholeness } from './typeFrets';
import type { CountedShapes } from './typeShapes';
import { wantedType } from '$lib/theory/wantedType';

export interface PocketChord {
  /** As the key spells it. */
  readonly symbol: string;
  readonly numeral: string;
  /** Complete where some voicing in the pocket has every tone. */
  readonly match: Wholeness;
  /** The least effort in the pocket, without a home fret. */
  readonly effort: number;
}

export interface Pocket {
  /** The middle of the pocket. */
  readonly fret: number;
  /** The chords of the key that lie there, in the key's order. */
  readonly chords: readonly PocketChord[];
}

/** The pocket at every fret of the neck; where the neck ends a pocket ends with it. */
export function pocketsOf(
  shapes: CountedShapes,
  chords: readonly KeyChord[],
  width: PocketWidth,
): Pocket[] {
  const placed = chords.map(({ chord, numeral }) => ({
    symbol: chord.symbol,
    numeral,
    root: chromaOfName(chord.root),
    there: typeFretsOf(shapes, wantedType(chord.type)),
  }));
  const last = shapes.instrument.setup.frets;
  return Array.from({ length: last + 1 }, (_, fret) => ({
    fret,
    chords: placed.flatMap(({ symbol, numeral, root, there }): PocketChord[] => {
      let whole = 0;
      let effort = Infinity;
      for (let at = Math.max(0, fret - width); at <= Math.min(last, fret + width); at++) {
        const row = rowAt(there, root, at);
        whole = Math.max(whole, there.whole[row] ?? 0);
        effort = Math.min(effort, there.effort[row] ?? Infinity);
      }
      if (whole === 0) return [];
      const match = whole === 2 ? 'complete' : 'lean';
      return [{ symbol, numeral, match, effort: effort / PER_UNIT }];
    }),
  }));
}
