/** What the worker of Progression does for the page: plain data in, plain data out. */
import { arrange, type Arrangement } from '$lib/arrange/arrange';
import { onePullFor, type OnePull } from '$lib/arrange/onePull';
import type { Progression, Step } from '$lib/arrange/progression';
import type { Wishes } from '$lib/arrange/wishes';
import type { Setup } from '$lib/setup/setup';
import { workingRanges } from '$lib/strings/strains';

export class ArrangeDesk {
  #text = '';
  #setup: Setup | undefined;

  /** A message brings a copy each time; what was worked out about a setup is kept with the object. */
  #known(setup: Setup): Setup {
    const text = JSON.stringify(setup);
    if (this.#setup === undefined || text !== this.#text) {
      this.#text = text;
      this.#setup = setup;
    }
    return this.#setup;
  }

  arrange(setup: Setup, progression: Progression, wishes: Wishes, most: number): Arrangement {
    return arrange(this.#known(setup), progression, wishes, most);
  }

  /** Pulls that would make a chord playable; none that break or slacken a string of known gauge. */
  onePull(setup: Setup, wishes: Wishes, step: Step, place: number): OnePull[] {
    const known = this.#known(setup);
    return onePullFor(known, wishes, step, place, workingRanges(known));
  }
}
