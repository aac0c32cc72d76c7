/**
 * The state of the page Change: a setup, what is proposed for it, which station is worked on. It
 * coordinates; what the proposal comes to is its `answer`.
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
import { EVERYDAY_REPERTOIRE, type Repertoire } from '$lib/theory/repertoire';
import { readSuggestion, type SuggestFault } from '$lib/answers/readSuggestion';
import type { SuggestQuestion } from '$lib/coverage/suggestion';
import type { Hold } from '$lib/search/hold';
import { workingRanges } from '$lib/strings/strains';
import type { ListName } from '$lib/coverage/changeKinds';
import type { Entry } from '$lib/ui/kit/addressBar';
import { ChangeAnswer, type Weighing } from './changeAnswer.svelte';
import type { ChangeAddress, OptionTexts } from './changeAddress';

/** Suggestions that are told, best first. */
const TOLD = 24;

export class ChangePage {
  readonly answer: ChangeAnswer;
  readonly #onaddress: (address: ChangeAddress, entry: Entry) => void;

  setupId = $state<string>(USUAL_SETUP);
  before = $state.raw<Setup>() as Setup;
  proposal = $state.raw<Proposal>({});
  station = $state<Station | undefined>();
  learn = $state<string | undefined>();
  options = $state.raw<OptionTexts>({});
  anyStrain = $state(false);
  /** What a search counts where no chord is wanted. */
  repertoire = $state.raw<Repertoire>(EVERYDAY_REPERTOIRE);
  readonly bySongs = $derived(this.repertoire !== EVERYDAY_REPERTOIRE);

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
    return readSuggestion(this.before, texts, this.repertoire, TOLD, ranges);
  });
  /** What the neck shows: the selected row, else the bar alone. */
  readonly hold = $derived.by((): Hold => {
    const { row, fret: bar } = this.answer;
    if (row === undefined) return { neck: 1, fret: bar, slant: 0, engaged: [], strings: [] };
    const { neck, fret, slant, strings, ways } = row.ranked.voicing;
    return { neck, fret, slant, strings, engaged: ways[0] ?? [] };
  });
  /** The setup on which the selected row is played. */
  readonly played = $derived.by(() =>
    this.answer.row?.state === 'lost' ? this.before : this.after,
  );

  constructor(
    weighing: Weighing,
    before: Setup,
    onaddress: (address: ChangeAddress, entry: Entry) => void,
  ) {
    this.answer = new ChangeAnswer(weighing);
    this.before = before;
    this.#onaddress = onaddress;
  }

  get address(): ChangeAddress {
    const { fret, list } = this.answer;
    return {
      setup: this.setupId,
      proposal: this.proposal,
      fret,
      ...(this.station === undefined ? {} : { station: this.station }),
      ...(this.learn === undefined ? {} : { learn: this.learn }),
      ...(list === undefined ? {} : { list }),
      options: this.options,
      anyStrain: this.anyStrain,
    };
  }

  /** Takes over the state that an address holds, and answers it. */
  async open(address: ChangeAddress, before: Setup): Promise<void> {
    this.setupId = address.setup;
    this.before = before;
    this.proposal = address.proposal;
    this.station = address.station;
    this.learn = before.controls.some(({ id }) => id === address.learn) ? address.learn : undefined;
    this.options = address.options;
    this.anyStrain = address.anyStrain;
    this.#lookAnew(Math.min(address.fret, before.frets), address.list);
    await this.#weigh();
  }

  #lookAnew(fret: number, list?: ListName): void {
    this.answer.fret = fret;
    this.answer.list = list;
    this.answer.chordNumber = undefined;
  }

  #tell(entry: Entry): void {
    this.#onaddress(this.address, entry);
  }

  /** Weighs what is proposed, or what the control in question gives. */
  #weigh(): Promise<void> {
    const { learn, before, after } = this;
    return this.answer.weigh(
      !this.#made.ok
        ? undefined
        : learn === undefined
          ? { was: before, is: after }
          : { was: withoutControl(before, learn), is: before, learn },
    );
  }

  async choose(list: ListName, chordNumber?: number): Promise<void> {
    const chosen = this.answer.choose(list, chordNumber);
    this.#tell('same');
    await chosen;
  }

  async moveBar(fret: number): Promise<void> {
    if (fret === this.answer.fret) return;
    const moved = this.answer.moveBar(fret);
    this.#tell('same');
    await moved;
  }

  async changeSetup(id: string, before: Setup): Promise<void> {
    this.setupId = id;
    this.before = before;
    this.proposal = {};
    this.learn = undefined;
    this.options = {};
    this.#lookAnew(Math.min(this.answer.fret, before.frets));
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
    this.#lookAnew(this.answer.fret);
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
    if (ordered.length === 0 && this.controlBefore === undefined) await this.remove();
    else await this.#propose(withControl(this.after, { ...control, pulls: ordered }));
  }

  /** Puts controls at their stations, all at once. */
  async setControls(
    controls: readonly { readonly station: Station; readonly pulls: readonly Pull[] }[],
  ): Promise<void> {
    await this.#propose(
      controls.reduce(
        (setup, { station, pulls }) =>
          withControl(setup, { id: idAt(setup, station), station, pulls: [...pulls] }),
        this.before,
      ),
    );
  }

  /** Without the control of the station that is worked on. */
  async remove(): Promise<void> {
    const id = this.control?.id;
    if (id !== undefined) await this.#propose(withoutControl(this.after, id));
  }

  /** The station as it is in the setup. */
  async restore(): Promise<void> {
    const { control, controlBefore } = this;
    if (controlBefore !== undefined) await this.#propose(withControl(this.after, controlBefore));
    else if (control !== undefined) await this.#propose(withoutControl(this.after, control.id));
  }

  /** Drops the whole proposal. */
  async discard(): Promise<void> {
    await this.#propose(this.before);
  }

  /** Asks what a control that is there makes possible; `undefined` goes back to proposing. */
  async ask(id: string | undefined): Promise<void> {
    this.learn = id;
    this.proposal = {};
    this.#lookAnew(this.answer.fret);
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
