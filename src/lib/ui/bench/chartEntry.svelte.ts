/**
 * The keys and presses in the copedent, and the text that is written in a cell. What is typed begins an
 * edit, and every text that can be read counts as it is typed.
 */
import type { Bench } from './bench.svelte';
import { NUMBER, OPEN, spotByKey, typesText, type Spot } from './chartKeys';
import { spotKey } from './chartSpots';

/** As much of the Bench as a copedent shows and writes into. */
export type Sheet = Pick<
  Bench,
  | 'chart'
  | 'here'
  | 'size'
  | 'refused'
  | 'goTo'
  | 'textAt'
  | 'whereOf'
  | 'typing'
  | 'enter'
  | 'leave'
  | 'nudge'
>;

export interface Leads {
  /** A row or a column moves along, by keys on its head. */
  readonly onshift: (spot: Spot, by: 1 | -1) => void;
  /** A row or a column goes, by Delete on its head. */
  readonly onremove: (spot: Spot) => void;
  /** The player leaves the copedent for what stands behind it. */
  readonly onleave: () => void;
  /** The cell at which the player is takes the focus, once it is drawn. */
  readonly focus: () => void;
}

const same = (a: Spot | undefined, b: Spot): boolean => a?.row === b.row && a.column === b.column;

export class ChartEntry {
  readonly #sheet: Sheet;
  readonly #leads: Leads;
  /** The cell that was pressed last: pressed again, its text is edited. */
  #pressedLast: Spot | undefined;
  #editing = $state.raw<{ readonly spot: Spot; readonly was: string } | undefined>();
  text = $state('');

  constructor(sheet: Sheet, leads: Leads) {
    this.#sheet = sheet;
    this.#leads = leads;
  }

  isAt(spot: Spot): boolean {
    return same(this.#editing?.spot, spot);
  }

  goTo(spot: Spot): void {
    this.#sheet.goTo(spot);
    this.#leads.focus();
  }

  typed(text: string): void {
    this.text = text;
    this.#sheet.typing(this.#sheet.here, text);
  }

  #begin(first?: string): void {
    const { here, refused } = this.#sheet;
    const was = this.#sheet.textAt(here);
    if (was === undefined) return;
    this.#editing = { spot: here, was };
    this.text = first ?? refused.get(spotKey(here))?.text ?? was;
    if (first !== undefined) this.#sheet.typing(here, first);
  }

  /** Takes what was typed; where it cannot be, the cell says why and the player goes on. */
  finish(): void {
    if (this.#editing === undefined) return;
    const { spot, was } = this.#editing;
    this.#editing = undefined;
    this.#sheet.enter(spot, this.text, was);
  }

  #giveUp(): void {
    if (this.#editing === undefined) return;
    const { spot, was } = this.#editing;
    this.#editing = undefined;
    this.#sheet.leave(spot, was);
    this.#leads.focus();
  }

  #go(event: KeyboardEvent, to: Spot | undefined): void {
    const { here } = this.#sheet;
    // behind the last cell Tab goes on to what follows
    if (to !== undefined || event.key !== 'Tab') {
      event.preventDefault();
      this.finish();
      this.goTo(to ?? here);
    } else this.finish();
  }

  keydown(event: KeyboardEvent): void {
    this.#pressedLast = undefined;
    const { here, size } = this.#sheet;
    if (event.key === 'Tab')
      this.#go(event, spotByKey('Tab', here, size, { shift: event.shiftKey }));
    else if (this.#editing !== undefined) this.#keyInText(event);
    else this.#keyOnCell(event);
  }

  #keyInText(event: KeyboardEvent): void {
    const { key, shiftKey } = event;
    const { here, size } = this.#sheet;
    if (key === 'Enter') this.#go(event, spotByKey(shiftKey ? 'ArrowUp' : 'ArrowDown', here, size));
    else if (key === 'ArrowUp' || key === 'ArrowDown') this.#go(event, spotByKey(key, here, size));
    else if (key === 'Escape') {
      event.preventDefault();
      this.#giveUp();
    }
  }

  #keyOnCell(event: KeyboardEvent): void {
    const { key, altKey, ctrlKey, metaKey } = event;
    const sheet = this.#sheet;
    const spot = sheet.here;
    const isHead = spot.row === 0 || spot.column === NUMBER;
    if (altKey && key.startsWith('Arrow')) {
      event.preventDefault();
      if (isHead) this.#leads.onshift(spot, key === 'ArrowUp' || key === 'ArrowLeft' ? -1 : 1);
      else sheet.nudge(spot, key === 'ArrowUp' || key === 'ArrowRight' ? 1 : -1);
    } else if (key === 'Enter' || key === 'F2') {
      event.preventDefault();
      this.#begin();
    } else if (key === 'Escape') this.#leads.onleave();
    else if (key === 'Delete' || key === 'Backspace') {
      event.preventDefault();
      if (isHead) this.#leads.onremove(spot);
      else if (spot.column !== OPEN) sheet.enter(spot, '', sheet.textAt(spot) ?? '');
    } else if (typesText(event) && spot.column !== NUMBER) {
      event.preventDefault();
      this.#begin(key);
    } else {
      const to = spotByKey(key, spot, sheet.size, { whole: ctrlKey || metaKey });
      if (to !== undefined || key.startsWith('Arrow')) this.#go(event, to);
    }
  }

  /** `focused`: the cell had the focus already. */
  press(spot: Spot, focused: boolean): void {
    if (this.isAt(spot)) return;
    // only where it was pressed before: a cell that keys led to is first chosen, and typing replaces it
    const again = focused && same(this.#sheet.here, spot) && same(this.#pressedLast, spot);
    this.#pressedLast = spot;
    this.finish();
    if (again) this.#begin();
    else this.goTo(spot);
  }
}
