/**
 * A setup compiled: everything that is worked out about it once and asked for again, in one place.
 * What the legs can hold, an index of each neck, prices, shapes, and whatever the storeys above keep
 * with it.
 */
import { secondHome, type SecondHome } from '$lib/setup/secondHome';
import type { Setup } from '$lib/setup/setup';
import { NeckCombinations, reachable, type Reachable } from '$lib/search/combinations';
import { slantsByDefault, USUAL_SIZES, type NutIndex } from '$lib/search/nutIndex';
import { nutIndex } from '$lib/search/walkNeck';
import { Feet, middlePedal } from '$lib/effort/feet';
import { homeStrings } from '$lib/effort/picking';
import { pricesOf, type Hand, type Prices } from '$lib/effort/prices';
import { Clarities } from './clarities';
import { Cached, Memo } from './memo';

/** Which grips and slants an index holds. */
export interface IndexQuestion {
  /** Fewest and most strings of a grip; 3 to 4 where left out. */
  readonly sizes?: readonly [number, number] | undefined;
  /** Where left out: on where the setup has no pedals. */
  readonly slants?: boolean | undefined;
  /** Only these strings, numbered from 1. */
  readonly strings?: readonly number[] | undefined;
}

// the limits of one sitting are few; a long one must not fill the memory
const INDEXES = new Cached<NutIndex>(24);
const LEAVING = new Cached<Instrument>(8);
/** By index: as many balances and home frets as a player turns between. */
const PRICES = 4;

export class Instrument {
  readonly setup: Setup;
  /** The middle of the pedal bar, as a pedal number: what a hold costs depends on it. */
  readonly middle: number;
  /** What holding its controls asks. */
  readonly feet: Feet;
  #reachable: Reachable | undefined;
  readonly #necks: NeckCombinations[] = [];
  readonly #home: (readonly number[])[] = [];
  readonly #second = new Map<number, SecondHome | undefined>();
  readonly #prices = new WeakMap<NutIndex, Memo<Prices>>();
  readonly #clarities = new WeakMap<NutIndex, Clarities>();
  readonly #memos = new Map<Cached<unknown>, Memo<unknown>>();

  constructor(setup: Setup, middle = middlePedal(setup)) {
    this.setup = setup;
    this.middle = middle;
    this.feet = new Feet(setup, middle);
  }

  /** All that the legs can hold, cheapest first. */
  get reachable(): Reachable {
    return (this.#reachable ??= reachable(this.setup, (engaged) => this.feet.effort(engaged)));
  }

  /** The combinations as a neck, numbered from 1, feels them. */
  combinationsOn(neck: number): NeckCombinations {
    return (this.#necks[neck] ??= new NeckCombinations(this.setup, neck, this.reachable));
  }

  /** The strings of the home chord of a neck, numbered from 1: the hand knows them as one row. */
  homeStrings(neck: number): readonly number[] {
    const played = this.setup.necks[neck - 1];
    if (played === undefined) throw new Error(`neck ${neck} is not in the setup`);
    return (this.#home[neck] ??= homeStrings(played));
  }

  /** The second home of a neck, numbered from 1, where it has one. */
  secondHome(neck: number): SecondHome | undefined {
    if (!this.#second.has(neck)) this.#second.set(neck, secondHome(this.setup, neck));
    return this.#second.get(neck);
  }

  /** Every voicing of a neck, numbered from 1, at the nut. */
  index(neck: number, { sizes, slants, strings }: IndexQuestion = {}): NutIndex {
    const count = this.setup.necks[neck - 1]?.strings.length ?? 0;
    const asked = {
      sizes: sizes ?? USUAL_SIZES,
      slants: slants ?? slantsByDefault(this.setup),
      ...(strings === undefined ? {} : { strings: strings.filter((string) => string <= count) }),
    };
    return this.once(INDEXES, JSON.stringify([neck, asked]), () =>
      nutIndex(this.setup, this.combinationsOn(neck), asked),
    );
  }

  /** What the parts of a hold cost, for an index of this instrument. */
  prices(index: NutIndex, hand: Hand = {}): Prices {
    let known = this.#prices.get(index);
    if (known === undefined) this.#prices.set(index, (known = new Memo<Prices>(PRICES)));
    return known.get(JSON.stringify(hand), () =>
      pricesOf(
        this.setup,
        index,
        this.reachable.cost,
        hand,
        this.secondHome(index.on.neck)?.strings,
      ),
    );
  }

  /** How clear each voicing of an index of this instrument sounds. */
  clarities(index: NutIndex): Clarities {
    let known = this.#clarities.get(index);
    if (known === undefined) this.#clarities.set(index, (known = new Clarities(index)));
    return known;
  }

  /** The same instrument with some controls not used; its pedals and levers stay where they are. */
  leaving(ids: readonly string[]): Instrument {
    if (ids.length === 0) return this;
    return this.once(LEAVING, JSON.stringify(ids), () => {
      const controls = this.setup.controls.filter(({ id }) => !ids.includes(id));
      return new Instrument({ ...this.setup, controls }, this.middle);
    });
  }

  /** Works something out about the instrument the first time it is asked for, and remembers it. */
  once<T>(kind: Cached<T>, key: string, make: () => T): T {
    let memo = this.#memos.get(kind) as Memo<T> | undefined;
    if (memo === undefined) this.#memos.set(kind, (memo = new Memo<T>(kind.most)));
    return memo.get(key, make);
  }
}

/** The instruments of the setups that a player moves between. */
export class Instruments {
  /** A player moves between a few setups; more are not remembered. */
  readonly #byContent = new Memo<Instrument>(8);
  /** The same by object, for callers who ask again and again. */
  readonly #byObject = new WeakMap<Setup, Map<number, Instrument>>();

  /** The instrument of a setup; `middle` as in `compile`. */
  of(setup: Setup, middle: number): Instrument {
    let byMiddle = this.#byObject.get(setup);
    if (byMiddle === undefined)
      this.#byObject.set(setup, (byMiddle = new Map<number, Instrument>()));
    let instrument = byMiddle.get(middle);
    if (instrument === undefined) {
      const key = JSON.stringify([setup, middle]);
      instrument = this.#byContent.get(key, () => new Instrument(setup, middle));
      byMiddle.set(middle, instrument);
    }
    return instrument;
  }
}

/** Those of this thread. */
const INSTRUMENTS = new Instruments();

/**
 * The instrument of a setup. Setups of the same content have the same one, however they came here: a
 * question from another thread brings a copy each time.
 *
 * @param middle the middle of the pedal bar, where it is not the setup's own: see `middlePedal`
 */
export const compile = (setup: Setup, middle = middlePedal(setup)): Instrument =>
  INSTRUMENTS.of(setup, middle);

/** Two setups as one player would hold them in turn: both over the pedals of either. */
export function compileBoth(a: Setup, b: Setup): readonly [Instrument, Instrument] {
  const middle = middlePedal(a, b);
  return [compile(a, middle), compile(b, middle)];
}
