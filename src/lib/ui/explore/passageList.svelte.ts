/** Passages from a position to a chord that is typed, or to what is held now. */
import type { Setup } from '$lib/setup/setup';
import type { Hold } from '$lib/search/hold';
import { foundText } from '$lib/answers/options';
import type { PassageOffer, Passages } from '$lib/answers/passages';
import { holdText } from '$lib/answers/stepWishes';
import type { WorkerPool } from '$lib/ui/worker/workerPool';

/** A position and the chord it is played as; empty where it is none. */
export interface Place {
  readonly hold: Hold;
  readonly symbol: string;
}

export class PassageList {
  readonly #pool: Pick<WorkerPool, 'ask'>;
  #questions = 0;
  /** Where passages begin, where that is not what is held. */
  start = $state.raw<Place | undefined>();
  goal = $state('');
  /** What was found last, and the setup it was found on. */
  found = $state.raw<(Passages & { readonly setup: Setup }) | undefined>();
  /** What would find some where nothing was found. */
  offers = $state.raw<readonly PassageOffer[]>([]);
  fault = $state<string | undefined>();
  failure = $state<string | undefined>();
  busy = $state(false);

  constructor(pool: Pick<WorkerPool, 'ask'>) {
    this.#pool = pool;
  }

  /** Passages begin at a position from now on, whatever is held; or at what is held again. */
  begin(place: Place | undefined): void {
    this.start = place;
    this.found = undefined;
    this.fault = undefined;
  }

  /** Is there somewhere to go: a chord, or another position than the one that was kept? */
  isReady({ hold }: Place): boolean {
    return (
      this.goal.trim() !== '' ||
      (this.start !== undefined && holdText(this.start.hold) !== holdText(hold))
    );
  }

  /** Looks for them. */
  async find(
    setup: Setup,
    held: Place,
    key: string,
    change: PassageOffer['change'] = {},
  ): Promise<void> {
    const question = ++this.#questions;
    const from = this.start ?? held;
    const goal = this.goal.trim();
    const to = goal === '' ? holdText(held.hold) : goal;
    this.busy = true;
    const texts = { from: holdText(from.hold), to, key, ...change };
    const told = await this.#pool.ask('passagesFor', setup, texts, from.symbol);
    if (question !== this.#questions) return;
    this.busy = false;
    this.failure = told.ok ? undefined : told.error;
    if (!told.ok) return;
    const answer = told.value;
    const [fault] = answer.ok ? [] : answer.error;
    this.fault = fault && foundText(fault);
    this.found = answer.ok ? { ...answer.value, setup } : undefined;
    this.offers = [];
    if (this.found?.passages.length !== 0) return;
    const near = await this.#pool.ask('passageOffers', setup, texts, from.symbol);
    if (question === this.#questions && near.ok) this.offers = near.value;
  }
}
