/** What the Bench's worker does: the whole search anew for a setup, told as a tally. */
import { EVERYDAY_REPERTOIRE } from '$lib/coverage/repertoire';
import { tallyOf, type TypeTally } from '$lib/coverage/tally';
import type { Setup } from '$lib/setup/setup';

export class BenchDesk {
  tally(setup: Setup): TypeTally[] {
    return tallyOf(setup, EVERYDAY_REPERTOIRE);
  }
}
