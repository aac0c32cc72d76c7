/**
 * The state of the page Change: a setup, what is proposed for it, what that gives and takes. It
 * coordinates; the engine it asks compares, names and ranks.
 */
import { USUAL_SETUP } from '$lib/setup/builtIns';
import type { Result } from '$lib/result';
import { faultText } from '$lib/faults';
import { controlText, idAt } from '$lib/setup/controlText';
import {
  proposalBetween,
  proposed,
  withControl,
  withoutControl,
  type Proposal,
} from '$lib/setup/proposal';
import type { Control, Pull, Setup, Station } from '$lib/setup/setup';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { readSuggestion, type SuggestFault } from '$lib/answers/readSuggestion';
import type { SuggestQuestion } from '$lib/coverage/suggestion';
import type { Hold } from '$lib/search/hold';
import { workingRanges } from '$lib/strings/strains';
import {
  USUAL_FRET,
  changeAddressText,
  type ChangeAddress,
  type OptionTexts,
} from './changeAddress';
import type { ChangedRow, ChangedRows, Picture, Weighed } from '$lib/answers/change';
import type { ListName } from '$lib/coverage/changeKinds';
import type { LessonView } from '$lib/answers/lessonView';

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

/** How an address takes its place: a new entry of the history, or instead of the present one. */
export type Entry = 'new' | 'same';

/** Suggestions that are told, best first. */
const TOLD = 24;
const ROWS_AT_ONCE = 20;

export class ChangePage {
  readonly #weighing: Weighing;
  readonly #onaddress: (text: string, entry: Entry) => void;
  #questions = 0;
  #rowQuestions = 0;
  #looks = 0;
  /** The setups of the change that is on show. */
  #compared: readonly [before: Setup, after: Setup] | undefined;

  setupId = $state<string>(USUAL_SETUP);
  before = $state.raw<Setup>() as Setup;
  proposal = $state.raw<Proposal>({});
  fret = $state(USUAL_FRET);
  station = $state<Station | undefined>();
  learn = $state<string | undefined>();
  list = $state<ListName | undefined>();
  /** One chord of the picture, whose rows are shown. */
  chordNumber = $state<number | undefined>();
  options = $state.raw<OptionTexts>({});
  anyStrain = $state(false);

  weighed = $state.raw<Weighed | undefined>();
  picture = $state.raw<Picture | undefined>();
  lesson = $state.raw<LessonView | undefined>();
  rows = $state.raw<ChangedRows | undefined>();
  busy = $state(false);
  failure = $state<string | undefined>();
  selected = $state(0);
  #most = ROWS_AT_ONCE;

  readonly #made = $derived(proposed(this.before, this.proposal));
  readonly faults = $derived(this.#made.ok ? [] : this.#made.error.map(faultText));
  /** The setup as it would be; as it is where the proposal cannot be read. */
  readonly after = $derived.by((): Setup => (this.#made.ok ? this.#made.value : this.before));
  readonly changed = $derived(Object.keys(this.proposal).length > 0);
  readonly control = $derived(this.after.controls.find(({ station }) => station === this.station));
  readonly controlBefore = $derived(
    this.before.controls.find(({ station }) => station === this.station),
  );
  readonly question = $derived.by((): Result<SuggestQuestion, readonly SuggestFault[]> => {
    const texts = { ...this.options, station: this.station ?? '' };
    const ranges = this.anyStrain ? [] : workingRanges(this.before);
    return readSuggestion(this.before, texts, EVERYDAY_REPERTOIRE, TOLD, ranges);
  });
  readonly row = $derived.by((): ChangedRow | undefined => this.rows?.rows[this.selected]);
  /** What the table shows: the selected row, else the bar alone. */
  readonly hold = $derived.by((): Hold => {
    const { row } = this;
    if (row === undefined) return { neck: 1, fret: this.fret, slant: 0, engaged: [], strings: [] };
    const { neck, fret, slant, strings, ways } = row.ranked.voicing;
    return { neck, fret, slant, strings, engaged: ways[0] ?? [] };
  });
  /** The setup on which the selected row is played. */
  readonly played = $derived(this.row?.state === 'lost' ? this.before : this.after);

  constructor(weighing: Weighing, before: Setup, onaddress: (text: string, entry: Entry) => void) {
    this.#weighing = weighing;
    this.before = before;
    this.#onaddress = onaddress;
  }

  get address(): ChangeAddress {
    return {
      setup: this.setupId,
      proposal: this.proposal,
      fret: this.fret,
      ...(this.station === undefined ? {} : { station: this.station }),
      ...(this.learn === undefined ? {} : { learn: this.learn }),
      ...(this.list === undefined ? {} : { list: this.list }),
      options: this.options,
      anyStrain: this.anyStrain,
    };
  }

  /** Takes over the state that an address holds, and answers it. */
  async open(address: ChangeAddress, before: Setup): Promise<void> {
    this.setupId = address.setup;
    this.before = before;
    this.proposal = address.proposal;
    this.fret = Math.min(address.fret, before.frets);
    this.station = address.station;
    this.learn = before.controls.some(({ id }) => id === address.learn) ? address.learn : undefined;
    this.list = address.list;
    this.options = address.options;
    this.anyStrain = address.anyStrain;
    this.chordNumber = undefined;
    await this.#weigh();
  }

  #tell(entry: Entry): void {
    this.#onaddress(changeAddressText(this.address), entry);
  }

  /** Weighs what is proposed, or what the control in question gives. */
  async #weigh(): Promise<void> {
    const number = ++this.#questions;
    this.failure = undefined;
    this.selected = 0;
    if (!this.#made.ok) {
      this.busy = false;
      return;
    }
    this.busy = true;
    const { learn, fret } = this;
    const [was, is] =
      learn === undefined
        ? [this.before, this.after]
        : [withoutControl(this.before, learn), this.before];
    const weighed = await this.#weighing.weigh(was, is, fret);
    const lesson = await this.#lessonAt(fret);
    // a newer question is on its way; this answer is nobody's
    if (number !== this.#questions) return;
    this.busy = false;
    const failed = [weighed, lesson].find((each) => each?.ok === false);
    if (failed?.ok === false) this.failure = failed.error;
    if (!weighed.ok || lesson?.ok === false) return;
    this.#compared = [was, is];
    this.weighed = weighed.value;
    this.picture = weighed.value.picture;
    this.lesson = lesson?.value;
    this.#most = ROWS_AT_ONCE;
    if (fret === this.fret) await this.#askRows();
    else await this.#lookAtBar();
  }

  /** What the control in question makes possible with the bar at a fret; nothing where none is. */
  async #lessonAt(fret: number): Promise<Result<LessonView, string> | undefined> {
    return this.learn === undefined
      ? undefined
      : this.#weighing.lesson(this.before, this.learn, fret);
  }

  /** The list that is open: the one that was chosen, else the first that has rows. */
  readonly shownList = $derived.by((): ListName => {
    if (this.list !== undefined) return this.list;
    const counts = this.weighed?.counts;
    return (
      (['gained', 'lost', 'easier', 'harder'] as const).find((each) => counts?.[each]) ?? 'all'
    );
  });

  async #askRows(): Promise<void> {
    if (this.#compared === undefined) {
      await this.#weigh();
      return;
    }
    const [was, is] = this.#compared;
    const number = ++this.#rowQuestions;
    const { shownList, fret, chordNumber } = this;
    const most = this.#most;
    const rows = await this.#weighing.rows(was, is, shownList, fret, most, chordNumber);
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
    this.#tell('same');
    await this.#askRows();
  }

  /** The bar moves, and every chord with it. */
  async moveBar(fret: number): Promise<void> {
    const before = this.fret;
    if (fret === before) return;
    this.fret = fret;
    // a chord number counts from the nut: the same shape stays chosen
    this.#tell('same');
    // what is being weighed is looked at where the bar is by then
    if (this.busy) return;
    if (this.#compared === undefined) await this.#weigh();
    else await this.#lookAtBar();
  }

  /** What was weighed, with the bar where it is now. */
  async #lookAtBar(): Promise<void> {
    const { fret } = this;
    const [was, is] = this.#compared ?? [this.before, this.after];
    const number = ++this.#looks;
    const question = this.#questions;
    const picture = await this.#weighing.picture(was, is, fret);
    const lesson = await this.#lessonAt(fret);
    if (number !== this.#looks || question !== this.#questions) return;
    const failed = [picture, lesson].find((each) => each?.ok === false);
    if (failed?.ok === false) this.failure = failed.error;
    if (!picture.ok || lesson?.ok === false) return;
    this.picture = picture.value;
    this.lesson = lesson?.value;
    await this.#askRows();
  }

  async changeSetup(id: string, before: Setup): Promise<void> {
    this.setupId = id;
    this.before = before;
    this.proposal = {};
    this.learn = undefined;
    this.chordNumber = undefined;
    this.list = undefined;
    this.options = {};
    this.fret = Math.min(this.fret, before.frets);
    await this.#weigh();
    this.#tell('new');
  }

  workOn(station: Station): void {
    this.station = station === this.station ? undefined : station;
    this.#tell('same');
  }

  async #propose(after: Setup): Promise<void> {
    this.proposal = proposalBetween(this.before, after);
    this.learn = undefined;
    this.chordNumber = undefined;
    this.list = undefined;
    await this.#weigh();
    this.#tell('new');
  }

  /** Puts these pulls on the station that is worked on. */
  async setPulls(pulls: readonly Pull[]): Promise<void> {
    const { station } = this;
    if (station === undefined) return;
    const control: Control = this.control ??
      this.controlBefore ?? { id: idAt(this.after, station), station, pulls: [] };
    const ordered = [...pulls].sort((a, b) => a.neck - b.neck || a.string - b.string);
    // a station without a control needs none that moves nothing
    if (ordered.length === 0 && this.controlBefore === undefined) await this.takeAway();
    else await this.#propose(withControl(this.after, { ...control, pulls: ordered }));
  }

  async takeAway(): Promise<void> {
    const id = this.control?.id;
    if (id !== undefined) await this.#propose(withoutControl(this.after, id));
  }

  /** The station as it is in the setup. */
  async putBack(): Promise<void> {
    const { control, controlBefore } = this;
    if (controlBefore !== undefined) await this.#propose(withControl(this.after, controlBefore));
    else if (control !== undefined) await this.#propose(withoutControl(this.after, control.id));
  }

  /** Drops the whole proposal. */
  async drop(): Promise<void> {
    await this.#propose(this.before);
  }

  async ask(id: string | undefined): Promise<void> {
    this.learn = id;
    this.proposal = {};
    this.list = undefined;
    this.chordNumber = undefined;
    await this.#weigh();
    this.#tell('new');
  }

  setOption(part: keyof OptionTexts, text: string): void {
    const { [part]: _, ...others } = this.options;
    this.options = text.trim() === '' ? others : { ...others, [part]: text };
    this.#tell('same');
  }

  setAnyStrain(any: boolean): void {
    this.anyStrain = any;
    this.#tell('same');
  }

  /** The control of the station in a text, for the field where pulls can be written. */
  get pullsText(): string {
    return this.control === undefined ? '' : (controlText(this.control).split(':')[1] ?? '');
  }
}
