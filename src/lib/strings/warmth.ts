/** How strings move when they grow warmer, and which of them part. */
import { chromaOf } from '$lib/theory/pitch';
import type { StringLoad } from './loads';
import { centsPerKelvin } from './tension';

export interface Drift {
  readonly neck: number;
  readonly string: number;
  /** Cents a kelvin, of the open string between ends that stay where they are. */
  readonly centsPerKelvin: number;
}

export interface Parting {
  readonly neck: number;
  readonly strings: readonly [number, number];
  /** Cents a kelvin by which the second moves away from the first. */
  readonly centsPerKelvin: number;
  /** Both are the same note, in unison or octaves: there it is heard first. */
  readonly sameNote: boolean;
}

/**
 * How far each string moves, in cents a kelvin, by the formula of `centsPerKelvin`; strings without a
 * known wire are left out.
 */
export const driftsOf = (loads: readonly StringLoad[]): Drift[] =>
  loads.flatMap(({ neck, string, load }) =>
    load ? [{ neck, string, centsPerKelvin: centsPerKelvin(load.wire, load.tensionN) }] : [],
  );

/** Pairs of one neck that part most: those of one note first, each kind by how fast they part. */
export function partingPairs(loads: readonly StringLoad[]): Parting[] {
  const drifts = driftsOf(loads);
  const chroma = (drift: Drift): number | undefined => {
    const of = loads.find(({ neck, string }) => neck === drift.neck && string === drift.string);
    return of && chromaOf(of.open.midi);
  };
  return drifts
    .flatMap((first, index) =>
      drifts.slice(index + 1).flatMap((second): Parting[] =>
        second.neck !== first.neck
          ? []
          : [
              {
                neck: first.neck,
                strings: [first.string, second.string],
                centsPerKelvin: second.centsPerKelvin - first.centsPerKelvin,
                sameNote: chroma(first) === chroma(second),
              },
            ],
      ),
    )
    .sort(
      (a, b) =>
        Number(b.sameNote) - Number(a.sameNote) ||
        Math.abs(b.centsPerKelvin) - Math.abs(a.centsPerKelvin),
    );
}
