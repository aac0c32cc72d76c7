/** The Bench's state as the part of an address after the question mark: the setup and the neck. */
import { USUAL_SETUP } from '$lib/setup/builtIns';
import { wholeIn } from '$lib/ui/parts/addressParts';
import { given } from '$lib/ui/parts/given';

export interface BenchAddress {
  readonly setup: string;
  readonly neck: number;
}

export const BENCH_HOME: BenchAddress = { setup: USUAL_SETUP, neck: 1 };

export function readBenchAddress(parts: URLSearchParams): BenchAddress {
  return {
    setup: given(parts, 'setup') ?? BENCH_HOME.setup,
    neck: wholeIn(parts, 'neck', BENCH_HOME.neck, [1, Infinity]),
  };
}

/** The text after the question mark, without it; what stands at its usual value is left out. */
export function benchAddressText({ setup, neck }: BenchAddress): string {
  const parts = new URLSearchParams();
  if (setup !== BENCH_HOME.setup) parts.set('setup', setup);
  if (neck !== 1) parts.set('neck', String(neck));
  return parts.toString();
}
