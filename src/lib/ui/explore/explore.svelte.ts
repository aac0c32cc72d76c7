/**
 * Explore's state: what is asked, what was found, what the player holds. It coordinates; searching,
 * naming and ranking are done by the engine it asks. One neck serves both directions: choosing a
 * row lays the hands on it, touching it asks what sounds. What asks, finds and lays are thus one state, in one
 * file; how addresses, rows and pictures are made of it stands beside it.
 */
import type { Chord } from '$lib/theory/chord';
import { USUAL_SETUP, builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import type { Effort } from '$lib/effort/effort';
import { readQuestion, type QuestionTexts } from '$lib/answers/question';
import { soundOf } from '$lib/answers/sound';
import { carried, fits, picked, pressed, straightened, within, type Hold } from '$lib/search/hold';
import { SLANTS } from '$lib/search/slants';
import { parseKey } from '$lib/theory/spelling';
import type { Entry } from '$lib/ui/kit/addressBar';
import {
  HOME,
  forAnySetup,
  readTable,
  tableAddress,
  withChange,
  type Address,
  type AddressTexts,
  type AtlasView,
  type ScaleView,
} from './address';
import { heldEffort } from './heldEffort';
import type { KnownSetups, Searching } from './needs';
import type { NeckView } from '$lib/ui/neck/neckView';
import { RowChoice, type RowPath } from './rowChoice.svelte';
import { controlsView, neckView, type Label, type Reference } from './neckAdapter';

const POSITIONS_AT_ONCE = 40;
/** Where the bar lies before anything is asked: C on an open E9. */
const START: Hold = { neck: 1, fret: 8, engaged: [], slant: 0, strings: [3, 4, 5] };

/** The key changes how things are spelled; what is held stays in the hands. */
const keepsTable = (change: QuestionTexts): boolean =>
  Object.keys(change).every((part) => part === 'key');

export class Explore {
  readonly #search: Searching;
  readonly #setups: KnownSetups;
  readonly #onaddress: (address: Address, entry: Entry) => void;
  #questions = 0;
  #openings = 0;
  /** A question was asked whose first row is to be held; it is still to be answered. */
  #firstWanted = false;
  /** What was changed since an address was opened; its setup may take a moment to be found. */
  #since: QuestionTexts = {};

  setupId = $state(HOME.setup);
  setup = $state.raw<Setup>(builtIn(USUAL_SETUP));
  /** Why another setup is shown than the address asks for. */
  lost = $state<string | undefined>();
  texts = $state.raw<AddressTexts>(HOME.texts);
  label = $state<Label>('tone');

  /** What was found, and which row of it is held. */
  readonly list = new RowChoice();
  /** The chord that the findings are of; the one in the field may not be read yet. */
  found = $state.raw<Chord | undefined>();
  busy = $state(false);
  failure = $state<string | undefined>();
  /** One sentence about the last touch, for everybody to read and for screen readers to say. */
  notice = $state('');
  hold = $state.raw<Hold>(START);
  /** Called when the hands have moved on the same setup. */
  onmoved: ((before: Hold, after: Hold) => void) | undefined;
  /** The atlas, while it stands in place of the rows. */
  atlas = $state.raw<AtlasView | undefined>();
  /** A scale, while that does. */
  scale = $state.raw<ScaleView | undefined>();
  /** What draws the neck while a scale is shown. */
  scaleTable = $state.raw<((hold: Hold, label: Label) => NeckView) | undefined>();

  readonly question = $derived(readQuestion(this.setup, this.texts));
  readonly faults = $derived(this.question.ok ? [] : this.question.error);
  readonly key = $derived(parseKey(this.texts.key ?? ''));

  readonly sound = $derived.by(() => soundOf(this.setup, this.hold, this.key));
  /** The wanted chord while one of its voicings is held, else the best name of what sounds. */
  readonly reference = $derived.by((): Reference | undefined =>
    this.list.row === undefined ? this.sound.names[0] : this.found,
  );
  readonly table = $derived.by(
    () =>
      this.scaleTable?.(this.hold, this.label) ??
      neckView(this.setup, this.hold, this.reference, this.label, this.key),
  );
  // they stay the same while the bar moves, and so do the pedals and levers
  readonly #neck = $derived(this.hold.neck);
  readonly #engaged = $derived(this.hold.engaged);
  readonly stand = $derived(controlsView(this.setup, this.#neck, this.#engaged));
  /** What holding this costs, by the balance that is set. */
  readonly effort = $derived.by(
    (): Effort =>
      this.list.row?.effort ??
      heldEffort(this.setup, this.hold, this.question.ok ? this.question.value : undefined),
  );
  /** Slants that stop the picked strings in tune with the bar where it is, straight among them. */
  readonly slants = $derived(
    [0, ...SLANTS].filter((slant) => slant === 0 || fits(this.setup, { ...this.hold, slant })),
  );

  constructor(
    search: Searching,
    setups: KnownSetups,
    onaddress: (address: Address, entry: Entry) => void,
  ) {
    this.#search = search;
    this.#setups = setups;
    this.#onaddress = onaddress;
  }

  get address(): Address {
    const { selected, findings } = this.list;
    const first = selected?.position === 0 && selected.row === 0;
    return {
      setup: this.setupId,
      texts: this.texts,
      ...(first || findings === undefined ? {} : { table: tableAddress(this.hold) }),
      ...(this.atlas === undefined ? {} : { atlas: this.atlas }),
      ...(this.scale === undefined ? {} : { scale: this.scale }),
    };
  }

  /**
   * Lets the search begin on what an address asks while the page that will open it is still being
   * put together. A setup that has to be looked for, or a question with faults, waits until then.
   */
  foresee({ setup: id, texts }: Address): void {
    const setup = this.#setups.get(id);
    const read = setup && readQuestion(setup, texts);
    if (setup !== undefined && read?.ok)
      void this.#search.ask(setup, { texts, question: read.value }, POSITIONS_AT_ONCE);
  }

  /** Takes over the state that an address holds, and answers it; with `entry`, as a step of its own. */
  async open(address: Address, entry?: Entry): Promise<void> {
    const opening = ++this.#openings;
    this.#since = {};
    const known = this.#setups.get(address.setup) ?? (await this.#setups.find(address.setup));
    // another address was opened while this one waited for what is saved
    if (opening !== this.#openings) return;
    this.lost = known === undefined ? this.#setups.unknown(address.setup) : undefined;
    this.#use(known === undefined ? HOME.setup : address.setup);
    this.texts = withChange(address.texts, this.#since);
    this.atlas = address.atlas;
    this.scale = address.scale;
    const { table } = address;
    this.hold = table === undefined ? within(this.setup, START) : readTable(this.setup, table);
    this.#firstWanted = false;
    await this.#ask(table !== undefined && keepsTable(this.#since));
    const asked = Object.keys(this.#since).length > 0;
    if (entry !== undefined || asked) this.#tell(entry ?? 'same');
  }

  /** Asks with some parts changed; an empty text takes a part away. */
  async change(change: QuestionTexts, entry: Entry = 'new'): Promise<void> {
    this.#since = { ...this.#since, ...change };
    this.texts = withChange(this.texts, change);
    await this.#ask(keepsTable(change));
    this.#tell(entry);
  }

  /** Another setup; the limits that were made for the old one's strings and controls go with it. */
  async changeSetup(id: string): Promise<void> {
    this.#openings += 1;
    this.lost = undefined;
    this.#use(id);
    this.texts = forAnySetup(this.texts);
    this.hold = within(this.setup, { ...START, fret: this.hold.fret });
    await this.#ask(false);
    this.#tell('new');
  }

  /** The setup in use was edited elsewhere: the question is asked anew, what is held stays held. */
  async follow(setup: Setup | undefined): Promise<void> {
    if (setup === undefined || setup === this.setup) return;
    this.setup = setup;
    this.hold = carried(setup, this.hold);
    await this.#ask(true);
  }

  #use(id: string): void {
    this.setupId = id;
    this.setup = this.#setups.get(id) ?? builtIn(USUAL_SETUP);
  }

  /** A question that leaves the table as it is does not take an earlier one's first row away. */
  async #ask(keepTable: boolean): Promise<void> {
    const number = ++this.#questions;
    if (!keepTable) this.#firstWanted = true;
    this.failure = undefined;
    if (!this.question.ok) {
      this.busy = false;
      return;
    }
    const question = this.question.value;
    this.busy = true;
    const asked = { texts: this.texts, question };
    const answered = await this.#search.ask(this.setup, asked, POSITIONS_AT_ONCE);
    // a newer question is on its way; this answer is nobody's
    if (number !== this.#questions) return;
    this.busy = false;
    if (!answered.ok) {
      this.failure = answered.error;
      return;
    }
    this.list.take(answered.value);
    this.found = question.chord;
    this.notice = '';
    if (!this.#firstWanted) this.list.find(this.hold);
    else if (answered.value.count > 0) this.#choose({ position: 0, row: 0 });
    this.#firstWanted = false;
  }

  async showMore(): Promise<void> {
    const { findings } = this.list;
    if (findings === undefined) return;
    const number = this.#questions;
    const more = await this.#search.more(findings.positions.length, POSITIONS_AT_ONCE);
    if (number !== this.#questions) return;
    if (more.ok) this.list.add(more.value);
    else this.failure = more.error;
  }

  /** Puts the hands where a row says. */
  select(path: RowPath): void {
    this.#choose(path);
    this.#tell('same');
  }

  /** Moves through the rows that are to be seen; stops at both ends. */
  step(by: 1 | -1): RowPath | undefined {
    const next = this.list.beside(by);
    if (next !== undefined) this.select(next);
    return next;
  }

  unfold(position: number): void {
    const instead = this.list.unfold(position);
    if (instead !== undefined) this.select(instead);
  }

  #choose(path: RowPath): void {
    const row = this.list.at(path);
    if (row === undefined) return;
    const before = this.hold;
    const { neck, fret, slant, strings, ways } = row.voicing;
    this.hold = { neck, fret, slant, strings, engaged: ways[0] ?? [] };
    this.list.selected = path;
    this.notice = '';
    this.onmoved?.(before, this.hold);
  }

  #lay(hold: Hold, notice = ''): void {
    const before = this.hold;
    this.hold = hold;
    // what hands do while a question is on its way, its answer does not take away
    this.#firstWanted = false;
    this.notice = notice;
    this.list.find(hold);
    this.onmoved?.(before, hold);
    this.#tell('same');
  }

  /** Opens the atlas, looks at it in another way, or goes back to the rows. */
  showAtlas(view: AtlasView | undefined): void {
    this.atlas = view;
    this.scale = undefined;
    this.#tell('new');
  }

  /** Opens a scale in place of the rows, or looks at it in another way. */
  showScale(view: ScaleView): void {
    this.atlas = undefined;
    this.scale = view;
    this.#tell('new');
  }

  /** Lays the hands where a position of the atlas says. */
  take(hold: Hold): void {
    this.#lay(within(this.setup, hold));
  }

  moveBar(fret: number): void {
    this.#lay(straightened(this.setup, { ...this.hold, fret }));
  }

  pick(string: number): void {
    this.#lay(picked(this.setup, this.hold, string));
  }

  slantBar(slant: number): void {
    this.#lay(straightened(this.setup, { ...this.hold, slant }));
  }

  press(id: string): void {
    const { hold, letGo } = pressed(this.setup, this.hold, id);
    this.#lay(hold, letGo);
  }

  changeNeck(neck: number): void {
    this.#lay(within(this.setup, { ...this.hold, neck, slant: 0 }));
  }

  #tell(entry: Entry): void {
    this.#onaddress(this.address, entry);
  }
}
