/** How even the tensions of neighbouring strings are. */
import { DEFAULT_BANDS, type BandSettings } from './bands';
import type { StringLoad } from './loads';

export interface Neighbours {
  readonly neck: number;
  /** The nearer to string 1. */
  readonly strings: readonly [number, number];
  /** Tension of the second over that of the first. */
  readonly ratio: number;
  readonly uneven: boolean;
}

/** Every pair of neighbours that both have figures. */
export function balanceOf(
  loads: readonly StringLoad[],
  { unevenRatio }: Pick<BandSettings, 'unevenRatio'> = DEFAULT_BANDS,
): Neighbours[] {
  return loads.flatMap((first, index) => {
    const second = loads[index + 1];
    if (!first.load || !second?.load || first.neck !== second.neck) return [];
    const ratio = second.load.tensionN / first.load.tensionN;
    return [
      {
        neck: first.neck,
        strings: [first.string, second.string] as const,
        ratio,
        uneven: Math.max(ratio, 1 / ratio) >= unevenRatio,
      },
    ];
  });
}
