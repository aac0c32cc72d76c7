/** Practice as its page has it: the setup's course, what is known of it, and the round that is under way. */
import { USUAL_SETUP, builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import { MOST_NEW, nextDue, todayOf, type RoundOf } from '$lib/practice/round';
import type { CoursePosition } from '$lib/practice/position';
import type { Setups } from '$lib/ui/shelf/setups.svelte';
import type { WorkerPool } from '$lib/ui/worker/workerPool';
import { DEVICE_CLOCK, roundLabel, type Clock } from './clock';
import { PracticeKeeping } from './keeping.svelte';
import { Round } from './round.svelte';

/** Those who answer the questions of the place. */
export type PracticePool = Pick<WorkerPool, 'ask'>;

export class PracticePlace {
  readonly #pool: PracticePool;
  readonly #setups: Setups;
  readonly #clock: Clock;
  readonly keeping = new PracticeKeeping();
  #opening = 0;

  setupId = $state<string>(USUAL_SETUP);
  setup = $state.raw<Setup>(builtIn(USUAL_SETUP));
  /** Why another setup is shown than the address names. */
  lost = $state<string | undefined>();
  course = $state.raw<readonly CoursePosition[] | undefined>();
  failure = $state<string | undefined>();
  round = $state.raw<Round | undefined>();
  /** When the page last looked at the clock. */
  now = $state(0);
  /** New cards that the player wants today beyond the usual. */
  #more = $state(0);

  readonly #of: RoundOf = $derived({
    course: this.course ?? [],
    answers: this.keeping.answers,
    now: this.now,
    dayBegan: this.#dayBegan(this.now),
    mostNew: MOST_NEW + this.#more,
  });
  /** The cards of today. */
  readonly today = $derived(todayOf(this.#of));
  /** When the next card is due; nothing before the first answer. */
  readonly due = $derived(nextDue(this.#of));
  readonly ready = $derived(this.course !== undefined && this.keeping.ready);
  /** Nothing was practised yet on this setup. */
  readonly isFirst = $derived(this.keeping.answers.size === 0);

  constructor(pool: PracticePool, setups: Setups, clock: Clock = DEVICE_CLOCK) {
    this.#pool = pool;
    this.#setups = setups;
    this.#clock = clock;
    this.now = clock.now();
  }

  #dayBegan(now: number): number {
    return this.#clock.dayBegan(now);
  }

  /** The number of the day of a moment, where the player is. */
  dayOf(moment: number): number {
    return Math.round(this.#clock.dayBegan(moment) / 86_400_000);
  }

  /** Takes up a setup, its course and what was practised on it. */
  async open(id: string): Promise<void> {
    const number = ++this.#opening;
    this.round = undefined;
    this.course = undefined;
    this.failure = undefined;
    this.#more = 0;
    const setup = await this.#setups.find(id);
    if (number !== this.#opening) return;
    this.lost = setup === undefined ? this.#setups.unknown(id) : undefined;
    this.setupId = setup === undefined ? USUAL_SETUP : id;
    this.setup = setup ?? builtIn(USUAL_SETUP);
    await Promise.all([this.#takeCourse(number), this.keeping.open(this.setupId, this.setup.name)]);
    this.now = this.#clock.now();
  }

  async #takeCourse(number: number): Promise<void> {
    const told = await this.#pool.ask('practiceCourse', this.setup);
    if (number !== this.#opening) return;
    if (told.ok) this.course = told.value;
    else this.failure = told.error;
  }

  /** Asks for the course again, where that failed. */
  async tryAgain(): Promise<void> {
    this.failure = undefined;
    await this.#takeCourse(this.#opening);
  }

  /** Begins a round; where today's is done, with as many new cards again. */
  async begin(): Promise<void> {
    const { course, setup } = this;
    if (course === undefined) return;
    this.now = this.#clock.now();
    if (this.today.due.length + this.today.fresh.length === 0) this.#more += MOST_NEW;
    this.keeping.beginRound(roundLabel(this.now));
    const round = new Round({
      ...{ setup, course },
      answers: () => this.keeping.answers,
      task: (card, turn) => this.#pool.ask('practiceTask', setup, card, turn),
      keep: (card, answer) => void this.keeping.answer(card, answer),
      takeBack: (card, answer) => this.keeping.takeBack(card, answer),
      now: () => this.#clock.now(),
      dayBegan: () => this.#dayBegan(this.#clock.now()),
      mostNew: MOST_NEW + this.#more,
    });
    this.round = round;
    await round.next();
  }

  /** Back from the round to the overview. */
  leave(): void {
    this.round = undefined;
    this.now = this.#clock.now();
  }
}
