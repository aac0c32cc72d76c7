/**
 * What a change comes to, and what of it is looked at: the numbers, the picture where the bar lies, the rows
 * of the list that is open. It asks those who weigh, and of several answers shows the newest alone.
 */
import type { Result } from '$lib/result';
import type { Setup } from '$lib/setup/setup';
import type { ChangedRow, ChangedRows, Picture, Weighed } from '$lib/answers/change';
import type { LessonView } from '$lib/answers/lessonView';
import { KINDS, type ListName } from '$lib/coverage/changeKinds';
import { USUAL_FRET } from './changeAddress';

/** Those who weigh changes. */
export interface Weighing {
  readonly weigh: (before: Setup, after: Setup, fret: number) => Promise<Result<Weighed, string>>;
  readonly picture: (before: Setup, after: Setup, fret: number) => Promise<Result<Picture, string>>;
  readonly rows: (
    before: Setup,
    after: Setup,
    list: ListName,
    fret: number,
    most: number,
    chordNumber?: number,
  ) => Promise<Result<ChangedRows, string>>;
  readonly lesson: (setup: Setup, id: string, fret: number) => Promise<Result<LessonView, string>>;
}

/** Two setups, and the control of the second whose use is told, where one is asked about. */
export interface Weighted {
  readonly was: Setup;
  readonly is: Setup;
  readonly learn?: string | undefined;
}

const ROWS_AT_ONCE = 20;

export class ChangeAnswer {
  readonly #weighing: Weighing;
  #questions = 0;
  #rowQuestions = 0;
  #looks = 0;
  #asked: Weighted | undefined;
  /** What the answer on show is of. */
  #compared: Weighted | undefined;
  #most = ROWS_AT_ONCE;

  fret = $state(USUAL_FRET);
  list = $state<ListName | undefined>();
  /** One chord of the picture, whose rows are shown. */
  chordNumber = $state<number | undefined>();
  selected = $state(0);

  weighed = $state.raw<Weighed | undefined>();
  picture = $state.raw<Picture | undefined>();
  lesson = $state.raw<LessonView | undefined>();
  rows = $state.raw<ChangedRows | undefined>();
  busy = $state(false);
  failure = $state<string | undefined>();

  readonly row = $derived.by((): ChangedRow | undefined => this.rows?.rows[this.selected]);
  /** The list that is open: the one that was chosen, else the first that has rows. */
  readonly shownList = $derived.by((): ListName => {
    const counts = this.weighed?.counts;
    return this.list ?? KINDS.find((each) => counts?.[each]) ?? 'all';
  });

  constructor(weighing: Weighing) {
    this.#weighing = weighing;
  }

  /** Weighs; where there is nothing that can be weighed, only what was asked before is given up. */
  async weigh(question: Weighted | undefined): Promise<void> {
    const number = ++this.#questions;
    this.#asked = question;
    this.failure = undefined;
    this.selected = 0;
    this.busy = question !== undefined;
    if (question === undefined) return;
    const { fret } = this;
    const weighed = await this.#weighing.weigh(question.was, question.is, fret);
    const lesson = await this.#lessonAt(question, fret);
    // a newer question is on its way; this answer is nobody's
    if (number !== this.#questions) return;
    this.busy = false;
    const failed = [weighed, lesson].find((each) => each?.ok === false);
    if (failed?.ok === false) this.failure = failed.error;
    if (!weighed.ok || lesson?.ok === false) return;
    this.#compared = question;
    this.weighed = weighed.value;
    this.picture = weighed.value.picture;
    this.lesson = lesson?.value;
    this.#most = ROWS_AT_ONCE;
    if (fret === this.fret) await this.#askRows();
    else await this.#lookAtBar(question);
  }

  /** What the control in question makes possible with the bar at a fret; nothing where none is. */
  async #lessonAt(
    { is, learn }: Weighted,
    fret: number,
  ): Promise<Result<LessonView, string> | undefined> {
    return learn === undefined ? undefined : this.#weighing.lesson(is, learn, fret);
  }

  async #askRows(): Promise<void> {
    if (this.#compared === undefined) {
      await this.weigh(this.#asked);
      return;
    }
    const { was, is } = this.#compared;
    const number = ++this.#rowQuestions;
    const { shownList, fret, chordNumber } = this;
    const rows = await this.#weighing.rows(was, is, shownList, fret, this.#most, chordNumber);
    if (number !== this.#rowQuestions) return;
    if (rows.ok) this.rows = rows.value;
    else this.failure = rows.error;
  }

  async showMore(): Promise<void> {
    this.#most += 2 * ROWS_AT_ONCE;
    await this.#askRows();
  }

  async choose(list: ListName, chordNumber?: number): Promise<void> {
    this.list = list;
    this.chordNumber = chordNumber;
    this.selected = 0;
    this.#most = ROWS_AT_ONCE;
    await this.#askRows();
  }

  /** The bar moves, and every chord with it: a chord's number counts from the nut, so it stays chosen. */
  async moveBar(fret: number): Promise<void> {
    this.fret = fret;
    // what is being weighed is looked at where the bar is by then
    if (this.busy) return;
    if (this.#compared === undefined) await this.weigh(this.#asked);
    else await this.#lookAtBar(this.#compared);
  }

  /** What was weighed, with the bar where it is now. */
  async #lookAtBar(compared: Weighted): Promise<void> {
    const { fret } = this;
    const number = ++this.#looks;
    const question = this.#questions;
    const picture = await this.#weighing.picture(compared.was, compared.is, fret);
    const lesson = await this.#lessonAt(compared, fret);
    if (number !== this.#looks || question !== this.#questions) return;
    const failed = [picture, lesson].find((each) => each?.ok === false);
    if (failed?.ok === false) this.failure = failed.error;
    if (!picture.ok || lesson?.ok === false) return;
    this.picture = picture.value;
    this.lesson = lesson?.value;
    await this.#askRows();
  }
}
