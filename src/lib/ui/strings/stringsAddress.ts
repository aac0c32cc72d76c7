/** The bands of the Strings page as parts of its address: what stands at its usual value is left out. */
import { DEFAULT_BANDS, type BandSettings } from '$lib/strings/bands';

const PARTS = { shareNear: 'near', shareBeyond: 'beyond' } as const;

/** Percent in an address, share inside; what makes no sense is passed over. */
export function readBands(parts: URLSearchParams): BandSettings {
  const read = (part: keyof typeof PARTS): number => {
    const percent = Number(parts.get(PARTS[part]) ?? NaN);
    return percent >= 10 && percent <= 150 ? percent / 100 : DEFAULT_BANDS[part];
  };
  return { ...DEFAULT_BANDS, shareNear: read('shareNear'), shareBeyond: read('shareBeyond') };
}

export function bandsQuery(bands: BandSettings): Record<string, string> {
  const query: Record<string, string> = {};
  for (const part of ['shareNear', 'shareBeyond'] as const)
    if (bands[part] !== DEFAULT_BANDS[part])
      query[PARTS[part]] = String(Math.round(100 * bands[part]));
  return query;
}
