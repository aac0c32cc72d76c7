/**
 * Compare's state: which two setups, by what they are weighed, what was found, and what of it is
 * looked at. Weighing is done by the worker it asks.
 */
import type { Result } from '$lib/result';
import { keyOtherwise } from '$lib/theory/typedNames';
import { readKey } from '$lib/theory/spelling';
import type { CoverageOptions } from '$lib/coverage/coverage';
import { USUAL_KEY } from '$lib/coverage/pocketWishes';
import { LISTS, type ListName } from '$lib/coverage/listNames';
import { POCKET_WIDTHS } from '$lib/coverage/pocketWishes';
import { EVERYDAY_REPERTOIRE, type Repertoire } from '$lib/theory/repertoire';
import { readRepertoireText, repertoireText } from '$lib/coverage/repertoireFile';
import type { ComparedSound } from '$lib/coverage/soundLists';
import type { Setup } from '$lib/setup/setup';
import { faultText } from '$lib/faults';
import type { Entry } from '$lib/ui/kit/addressBar';
import { USUAL_VIEW, type AskedTexts, type CompareAddress, type CompareView } from './address';
import { chartMeasure } from './chartMeasures';
import type { Weighed } from '$lib/answers/compare';
import { chartRows, measureLines, shortNames, verdict } from './compareView';

/** The part of the worker's client that is needed here. */
export interface Weighing {
  weigh(
    a: Setup,
    b: Setup,
    repertoire: Repertoire,
    options: CoverageOptions,
  ): Promise<Result<Weighed, string>>;
  entries(
    name: ListName,
    from: number,
    most: number,
    type: string | undefined,
  ): Promise<Result<ComparedSound[], string>>;
}

/** The part of the shelf that is needed here. */
export interface SetupShelf {
  /** Waits until it is known whether there is a setup with this id, and gives it. */
  find(id: string): Promise<Setup | undefined>;
  /** What is to be said where there is none. */
  unknown(id: string): string;
}

/** What was weighed, with the answer: the page goes on showing it while the next one is worked out. */
export interface Answered {
  readonly a: Setup;
  readonly b: Setup;
  readonly repertoire: Repertoire;
  readonly options: CoverageOptions;
  readonly weighed: Weighed;
}

/** Efforts up to which voicings can be counted. */
export const EFFORTS = ['', '1', '2', '3', '5'] as const;
const ENTRIES_AT_ONCE = 12;

export class Compare {
  readonly #worker: Weighing;
  readonly #shelf: SetupShelf;
  readonly #onaddress: (address: CompareAddress, entry: Entry) => void;
  #questions = 0;
  #lists = 0;

  ids = $state.raw<{ readonly a: string; readonly b: string }>({ a: '', b: '' });
  asked = $state.raw<AskedTexts>({});
  view = $state.raw<CompareView>(USUAL_VIEW);
  answered = $state.raw<Answered | undefined>();
  entries = $state.raw<readonly ComparedSound[]>([]);
  busy = $state(false);
  failure = $state<string | undefined>();
  /** Sentences about setups that are not there. */
  unknown = $state.raw<readonly string[]>([]);

  readonly key = $derived.by(() => readKey(this.asked.key ?? ''));
  readonly #repertoire = $derived.by(() =>
    this.asked.repertoire === undefined ? undefined : readRepertoireText(this.asked.repertoire),
  );
  readonly repertoire = $derived(
    this.#repertoire?.ok === true ? this.#repertoire.value : EVERYDAY_REPERTOIRE,
  );
  readonly everyday = $derived(this.asked.repertoire === undefined);
  /** Sentences about what cannot be read; until it can, the usual stands in its place. */
  readonly keyFault = $derived(
    this.asked.key === undefined || this.key.ok
      ? undefined
      : `Found “${this.key.error.found}”; allowed is ${this.key.error.allowed}.`,
  );
  /** What the key is in other names of notes, where it cannot be read. */
  readonly keyMeant = $derived.by(() => {
    const other = this.key.ok ? undefined : keyOtherwise(this.asked.key ?? '');
    return other === undefined ? [] : [other.letters];
  });
  readonly faults = $derived([
    ...(this.asked.key === undefined || this.key.ok
      ? []
      : [`Key: found “${this.key.error.found}”; allowed is ${this.key.error.allowed}.`]),
    ...(this.#repertoire?.ok === false
      ? this.#repertoire.error.map((fault) =>
          // an address has no paths of a file, and the fault says what it found
          faultText({ ...fault, path: 'Repertoire' }),
        )
      : []),
  ]);
  readonly options = $derived.by((): CoverageOptions => {
    const pocket = POCKET_WIDTHS.find((width) => String(width) === this.asked.pocket);
    const effort = EFFORTS.find((each) => each !== '' && each === this.asked.effort);
    return {
      key: this.key.ok ? this.key.value : USUAL_KEY,
      pocket: pocket ?? 0,
      ...(effort === undefined ? {} : { mostEffort: Number(effort) }),
    };
  });

  readonly names = $derived(shortNames(this.answered?.a.name ?? '', this.answered?.b.name ?? ''));
  readonly measure = $derived(chartMeasure(this.view.measure));
  readonly rows = $derived(
    this.answered === undefined
      ? []
      : chartRows(
          this.answered.weighed.types,
          this.answered.repertoire,
          this.measure,
          this.view.order,
        ),
  );
  readonly verdict = $derived(verdict(this.rows, this.measure, this.names));
  readonly lines = $derived.by(() => {
    const measures = this.answered?.weighed.measures;
    return measures === undefined ? [] : measureLines(measures.a, measures.b);
  });
  /** How many sounds each list has, for the type that is chosen. */
  readonly counts = $derived.by((): Readonly<Record<ListName, number>> => {
    const { type } = this.view;
    const of = (name: ListName): number => {
      const list = this.answered?.weighed.lists[name];
      const found = type === undefined ? list : list?.byType.find((each) => each.type === type);
      return found?.count ?? 0;
    };
    return Object.fromEntries(LISTS.map((name) => [name, of(name)])) as Record<ListName, number>;
  });
  /** How many patterns the list on show has in all, for the type that is chosen. */
  readonly listed = $derived.by(() => {
    const list = this.answered?.weighed.lists[this.view.list];
    if (list === undefined) return { count: 0, patterns: 0 };
    const { type } = this.view;
    return type === undefined
      ? list
      : (list.byType.find((each) => each.type === type) ?? { count: 0, patterns: 0 });
  });

  constructor(
    worker: Weighing,
    shelf: SetupShelf,
    onaddress: (address: CompareAddress, entry: Entry) => void,
  ) {
    this.#worker = worker;
    this.#shelf = shelf;
    this.#onaddress = onaddress;
  }

  get address(): CompareAddress {
    return { ...this.ids, asked: this.asked, view: this.view };
  }

  /** Takes over the state that an address holds, and answers it. */
  async open({ a, b, asked, view }: CompareAddress): Promise<void> {
    this.ids = { a, b };
    this.asked = asked;
    this.view = view;
    await this.weigh();
  }

  async choose(ids: Partial<Compare['ids']>): Promise<void> {
    this.ids = { ...this.ids, ...ids };
    this.#tell('new');
    await this.weigh();
  }

  swap(): Promise<void> {
    return this.choose({ a: this.ids.b, b: this.ids.a });
  }

  /** Asks with some parts changed; an empty text takes a part away. */
  async ask(change: AskedTexts, entry: Entry = 'new'): Promise<void> {
    this.asked = Object.fromEntries(
      Object.entries({ ...this.asked, ...change }).filter(([, text]) => text !== ''),
    );
    this.#tell(entry);
    if (this.faults.length === 0) await this.weigh();
  }

  /** Another repertoire; the everyday one where none is given. */
  take(repertoire: Repertoire | undefined): Promise<void> {
    return this.ask({ repertoire: repertoire === undefined ? '' : repertoireText(repertoire) });
  }

  /** Looks at something else in the same answer. */
  async look(change: Partial<CompareView>, entry: Entry = 'same'): Promise<void> {
    this.view = { ...this.view, ...change };
    this.#tell(entry);
    if ('list' in change || 'type' in change) await this.#listAnew();
  }

  /** The lists of one type, or of all again. */
  async lookAtType(type: string | undefined): Promise<void> {
    const { type: before, ...rest } = this.view;
    this.view = type === undefined || type === before ? rest : { ...rest, type };
    this.#tell('same');
    await this.#listAnew();
  }

  async weigh(): Promise<void> {
    const number = ++this.#questions;
    const { ids, repertoire, options } = this;
    this.failure = undefined;
    this.busy = true;
    const [a, b] = await Promise.all([this.#shelf.find(ids.a), this.#shelf.find(ids.b)]);
    if (number !== this.#questions) return;
    this.unknown = [a === undefined ? ids.a : undefined, b === undefined ? ids.b : undefined]
      .filter((id) => id !== undefined)
      .map((id) => this.#shelf.unknown(id));
    if (a === undefined || b === undefined) {
      this.busy = false;
      return;
    }
    const weighed = await this.#worker.weigh(a, b, repertoire, options);
    // a newer question is on its way; this answer is nobody's
    if (number !== this.#questions) return;
    this.busy = false;
    if (!weighed.ok) {
      this.failure = weighed.error;
      return;
    }
    this.answered = { a, b, repertoire, options, weighed: weighed.value };
    if (this.view.type !== undefined && !repertoire.some(({ type }) => type === this.view.type)) {
      const { type: _gone, ...rest } = this.view;
      this.view = rest;
    }
    await this.#listAnew();
  }

  async #listAnew(): Promise<void> {
    await this.#list([]);
  }

  /** Further entries of the list on show. */
  async showMore(): Promise<void> {
    await this.#list(this.entries);
  }

  async #list(before: readonly ComparedSound[]): Promise<void> {
    const number = ++this.#lists;
    const { list, type } = this.view;
    const more = await this.#worker.entries(list, before.length, ENTRIES_AT_ONCE, type);
    if (number !== this.#lists) return;
    if (more.ok) this.entries = [...before, ...more.value];
    else this.failure = more.error;
  }

  #tell(entry: Entry): void {
    this.#onaddress(this.address, entry);
  }
}
