/** What the Bench's worker does: the whole search anew for a setup, told as a tally. */
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { countByType, type TypeCount } from '$lib/coverage/typeShapes';
import type { Setup } from '$lib/setup/setup';

export class BenchDesk {
  tally(setup: Setup): TypeCount[] {
    return countByType(setup, EVERYDAY_REPERTOIRE);
  }
}
