/** At which frets a chord type lies on which root, how whole, and how easy. */
import { chromaOf, type Chroma } from '$lib/theory/pitch';
import type { WantedType } from '$lib/theory/wantedType';
import { Cached } from '$lib/engine/memo';
import { shapesOfType, type CountedShapes } from './typeShapes';

/** What the best voicing at a fret leaves out: nothing, or some tone that may be missing. */
export type Wholeness = 'complete' | 'lean';

export interface TypeFrets {
  readonly frets: number;
  /** At `root * (frets + 1) + fret`: 0 not there, 1 with a tone missing, 2 complete. */
  readonly whole: Uint8Array;
  /** At the same index: the least effort in thousandths; without meaning where it is not there. */
  readonly effort: Uint32Array;
}

/** Where a root at a fret stands in the columns. */
export const rowAt = ({ frets }: TypeFrets, root: Chroma, fret: number): number =>
  root * (frets + 1) + fret;

const TYPE_FRETS = new Cached<TypeFrets>(120);

/** Where a type lies on an instrument; every neck counts, the frets being the bar's. */
export const typeFretsOf = (shapes: CountedShapes, wanted: WantedType): TypeFrets =>
  shapes.instrument.once(TYPE_FRETS, `${shapes.most} ${wanted.type}`, () => {
    const { frets } = shapes.instrument.setup;
    const found: TypeFrets = {
      frets,
      whole: new Uint8Array(12 * (frets + 1)),
      effort: new Uint32Array(12 * (frets + 1)).fill(0xffffffff),
    };
    const { whole, effort } = found;
    for (const { neck, number, root, complete, frets: there } of shapesOfType(shapes, wanted)) {
      const held = neck.held[number] as number;
      const bar = neck.barOf(number);
      for (const fret of there) {
        const at = rowAt(found, chromaOf(root + fret), fret);
        whole[at] = Math.max(whole[at] as number, complete ? 2 : 1);
        effort[at] = Math.min(effort[at] as number, held + (bar[fret] as number));
      }
    }
    return found;
  });
