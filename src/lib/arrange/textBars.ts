/** The bars of a text while they are gathered: as they are written, and as repeats without other signs play them. */
import type { Told } from '$lib/faults';
import { told } from '$lib/pieceFaults';
import { passesIn } from './piece';
import { BOUNDS } from './progression';
import { REPEAT, type FormSign } from './textSigns';
import type { BarDraft, SlotDraft, Written } from './writtenBars';

/** The bars of one text, filled from its words and bar lines. What is wrong is told by what is returned. */
export class TextBars {
  /** In the order in which they are played, but for texts with signs of their form: these are written alone. */
  readonly bars: BarDraft[] = [];
  /** Each once, with its signs. */
  readonly written: Written[] = [];
  /** The bar being filled; in `bars` already. */
  bar: BarDraft | undefined;
  /** Signs before the next bar. */
  signs: Written['signs'] = {};
  /** The piece is as long as one may be: nothing more is taken. */
  full = false;
  readonly #formed: boolean;
  readonly #partOf: (isFirst: boolean) => number;
  #section: string | undefined;
  /** Where the part to be repeated begins, as a number of bars. */
  #repeatFrom = 0;
  #slots = 0;
  #endings: readonly number[] | undefined;
  /** The next bar is the first on its line. */
  #begins = true;

  /**
   * @param formed the text has signs that say where it goes on, and its repeats are played by these
   * @param partOf which part of a usual measure the next bar lasts
   */
  constructor(formed: boolean, partOf: (isFirst: boolean) => number) {
    this.#formed = formed;
    this.#partOf = partOf;
  }

  /** Where the last chord stands. */
  get place(): { readonly bar: number; readonly slot: number } {
    return { bar: this.bars.length - 1, slot: (this.bar?.slots.length ?? 1) - 1 };
  }

  /** A new line begins a new bar. */
  beginLine(): void {
    this.bar = undefined;
    this.#begins = true;
  }

  endBar(): void {
    this.bar = undefined;
  }

  /** The next bar begins a section. */
  beginSection(name: string): void {
    this.endBar();
    this.#section = name;
  }

  /** A segno and a coda are where a bar begins; other signs are of the bar that they stand in or behind. */
  sign(sign: FormSign): void {
    const last = this.written.at(-1);
    const begins = sign.segno === true || sign.coda === true;
    Object.assign(
      (begins && this.bar === undefined) || last === undefined ? this.signs : last.signs,
      sign,
    );
  }

  /** A bar line as it is written, with its repeats and the number of the ending that begins behind it. */
  barLine(text: string): Told | undefined {
    this.endBar();
    const last = this.written.at(-1);
    const closes = text.startsWith(':');
    const times = Number(REPEAT.exec(text)?.[1] ?? (closes ? 2 : 1));
    const endings = /(\d(?:[,-]\d)*)\.$/u.exec(text)?.[1];
    if (closes && last !== undefined) last.signs.times = Math.max(2, times);
    // endings are over where a double bar, a repeat or another ending is
    if (endings !== undefined) this.#endings = passesIn(endings);
    else if (/:|\|\|/u.test(text)) this.#endings = undefined;
    const opens = /\|:/u.test(text);
    if (opens) this.signs.repeats = true;
    const again = closes && !this.#formed ? this.#playAgain(times) : undefined;
    if (opens) this.#repeatFrom = this.bars.length;
    return closes || times === 1 ? again : told('bar.repeatedWithoutRepeat', text);
  }

  #playAgain(times: number): Told | undefined {
    const again = this.bars.slice(this.#repeatFrom);
    const count = again.reduce((sum, { slots }) => sum + slots.length, 0);
    let fault: Told | undefined;
    for (let time = 1; time < times && !this.full && count > 0; time++) {
      // a section is named where it begins, not each time it is played
      for (const { slots, part } of again)
        this.bars.push({
          ...(part === undefined ? {} : { part }),
          slots: slots.map((slot) => ({ ...slot })),
        });
      fault = this.#count(count);
    }
    this.#repeatFrom = this.bars.length;
    return fault;
  }

  /** A chord more in the bar, which begins with it where none is being filled. */
  add(slot: SlotDraft): Told | undefined {
    if (this.full) return undefined;
    if (this.bar === undefined) {
      this.bar = { slots: [] };
      const section = this.#section;
      if (section !== undefined) this.bar.section = section;
      const part = this.#partOf(this.bars.length === 0);
      if (part !== 1) this.bar.part = part;
      this.#section = undefined;
      this.bars.push(this.bar);
      this.written.push({
        bar: this.bar,
        signs: {
          ...this.signs,
          ...(section === undefined ? {} : { section }),
          ...(this.#endings === undefined ? {} : { endings: this.#endings }),
        },
        begins: this.#begins,
      });
      this.#begins = false;
      this.signs = {};
    }
    this.bar.slots.push(slot);
    return this.#count(1);
  }

  /** Counts slots; a piece that is too long is cut at a bar. */
  #count(more: number): Told | undefined {
    this.#slots += more;
    if (this.#slots <= BOUNDS.slots) return undefined;
    this.full = true;
    while (this.#slots > BOUNDS.slots) {
      const bar = this.bars.pop();
      if (bar === this.written.at(-1)?.bar) this.written.pop();
      this.#slots -= bar?.slots.length ?? this.#slots;
    }
    this.bar = undefined;
    return told('piece.tooManyChords', BOUNDS.slots);
  }
}
