/** The setup and the bands of the Strings page as its address: what stands at its usual value is left out. */
import { USUAL_SETUP } from '$lib/setup/builtIns';
import { DEFAULT_BANDS, type BandSettings } from '$lib/strings/bands';
import { given } from '$lib/ui/parts/given';

export interface StringsAddress {
  readonly setup: string;
  readonly bands: BandSettings;
}

export const STRINGS_HOME: StringsAddress = { setup: USUAL_SETUP, bands: DEFAULT_BANDS };

const PARTS = { shareNear: 'near', shareBeyond: 'beyond' } as const;

/** Percent in an address, share inside; what makes no sense is passed over. */
export function readBands(parts: URLSearchParams): BandSettings {
  const read = (part: keyof typeof PARTS): number => {
    const percent = Number(parts.get(PARTS[part]) ?? NaN);
    return percent >= 10 && percent <= 150 ? percent / 100 : DEFAULT_BANDS[part];
  };
  return { ...DEFAULT_BANDS, shareNear: read('shareNear'), shareBeyond: read('shareBeyond') };
}

function bandsQuery(bands: BandSettings): Record<string, string> {
  const query: Record<string, string> = {};
  for (const part of ['shareNear', 'shareBeyond'] as const)
    if (bands[part] !== DEFAULT_BANDS[part])
      query[PARTS[part]] = String(Math.round(100 * bands[part]));
  return query;
}

export const readStringsAddress = (parts: URLSearchParams): StringsAddress => ({
  setup: given(parts, 'setup') ?? STRINGS_HOME.setup,
  bands: readBands(parts),
});

/** The text after the question mark, without it. */
export const stringsAddressText = ({ setup, bands }: StringsAddress): string =>
  new URLSearchParams({
    ...(setup === STRINGS_HOME.setup ? {} : { setup }),
    ...bandsQuery(bands),
  }).toString();
