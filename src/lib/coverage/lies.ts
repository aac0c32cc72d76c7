/** At which frets a chord type lies on which root, how whole, and how easy. */
import { chromaOf, type Chroma } from '$lib/theory/pitch';
import { effortAt, sayings, type Shapes } from './shapes';
import type { WantedType } from './wanted';

/** What the best voicing at a fret leaves out: nothing, or some tone that may be missing. */
export type Wholeness = 'complete' | 'lean';

export interface Lies {
  readonly frets: number;
  /** At `root * (frets + 1) + fret`: 0 not there, 1 with a tone missing, 2 complete. */
  readonly whole: Uint8Array;
  /** At the same place: the least effort in thousandths; without meaning where it is not there. */
  readonly effort: Uint32Array;
}

export const liesAt = ({ frets }: Lies, root: Chroma, fret: number): number =>
  root * (frets + 1) + fret;

const kept = new WeakMap<Shapes, Map<string, Lies>>();

/** Where a type lies on a setup; every neck counts, the frets being the bar's. */
export function liesOf(shapes: Shapes, wanted: WantedType): Lies {
  const byType = kept.get(shapes) ?? new Map<string, Lies>();
  kept.set(shapes, byType);
  const before = byType.get(wanted.type);
  if (before !== undefined) return before;
  const { frets } = shapes.setup;
  const lies: Lies = {
    frets,
    whole: new Uint8Array(12 * (frets + 1)),
    effort: new Uint32Array(12 * (frets + 1)).fill(0xffffffff),
  };
  const { whole, effort } = lies;
  for (const { neck, shape, root, complete, frets: there } of sayings(shapes, wanted))
    for (const fret of there) {
      const at = liesAt(lies, chromaOf(root + fret), fret);
      whole[at] = Math.max(whole[at] as number, complete ? 2 : 1);
      effort[at] = Math.min(effort[at] as number, effortAt(neck, shape, fret));
    }
  byType.set(wanted.type, lies);
  return lies;
}
