/** The tuning that a page shows, made anew when the setup or the plan changes; the last one stays meanwhile. */
import type { Result } from '$lib/result';
import type { MeantChord } from '$lib/theory/chordWords';
import type { Setup } from '$lib/setup/setup';
import type { Place } from '$lib/setup/stretch';
import type { Plan, Tuning } from '$lib/tuning/tune';
import { sameStop } from '$lib/tuning/stops';
import type { WrittenTarget } from '$lib/tuning/targets';
import { readCents } from './writeTargets';
import { USUAL_PLAN, planOf, type PlanTexts } from './planTexts';

type Ask = (setup: Setup, neck: number, plan: Plan) => Promise<Result<Tuning, string>>;

export class Tuned {
  readonly #ask: Ask;
  #asked = 0;
  texts = $state.raw<PlanTexts>(USUAL_PLAN);
  /** Targets that the player chose for stops that no chord decides. */
  chosen = $state.raw<readonly WrittenTarget[]>([]);
  tuning = $state.raw<Tuning | undefined>();
  against = $state.raw<Tuning | undefined>();
  busy = $state(false);
  /** Why there is no new tuning, as a sentence. */
  fault = $state<string | undefined>();
  /** Texts of the plan's chords that were likely meant, where they cannot be read. */
  meant = $state.raw<readonly MeantChord[]>([]);

  constructor(ask: Ask) {
    this.#ask = ask;
  }

  /** The neck that is tuned, as far as the setup has it. */
  neckIn(setup: Setup): number {
    return Math.max(1, Math.min(setup.necks.length, Math.trunc(Number(this.texts.neck)) || 1));
  }

  /** Chooses a target that no chord decides, from what a player wrote; nothing written gives it up. */
  choose({ neck, string, control, state, raisedBy }: Place, text: string): string | undefined {
    const read = readCents(text);
    if (!read.ok) return read.error;
    const place: Place = {
      ...{ neck, string, control, state },
      ...(raisedBy === undefined ? {} : { raisedBy }),
    };
    const others = this.chosen.filter((each) => !sameStop(each, place));
    this.chosen = read.value === undefined ? others : [...others, { ...place, cents: read.value }];
    return undefined;
  }

  async make(setup: Setup): Promise<void> {
    const number = ++this.#asked;
    const { texts, chosen } = this;
    const neck = this.neckIn(setup);
    const plan = planOf(texts, 'method');
    if (!plan.ok) {
      this.busy = false;
      this.fault = plan.error.sentence;
      this.meant = plan.error.meant;
      return;
    }
    const strings = setup.necks[neck - 1]?.strings.length ?? 1;
    const fitting = ({ anchor, ...rest }: Plan): Plan => ({
      ...rest,
      ...(chosen.length === 0 ? {} : { chosen }),
      ...(anchor === undefined || anchor > strings ? {} : { anchor }),
    });
    this.busy = true;
    this.meant = [];
    const made = await this.#ask(setup, neck, fitting(plan.value));
    const other = texts.against === '' ? undefined : planOf(texts, 'against');
    // asked for something else meanwhile
    if (number !== this.#asked) return;
    const beside = other?.ok ? await this.#ask(setup, neck, fitting(other.value)) : undefined;
    if (number !== this.#asked) return;
    this.busy = false;
    const failed = [made, beside].find((each) => each?.ok === false);
    this.fault = failed?.ok === false ? failed.error : undefined;
    if (made.ok) this.tuning = made.value;
    this.against = beside?.ok ? beside.value : undefined;
  }
}
