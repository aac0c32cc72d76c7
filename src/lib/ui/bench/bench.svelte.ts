/**
 * The Bench's state: the setup that is worked on, where in its copedent the player is, which pedals
 * and levers are engaged, and what the edits did. Every edit is one of `setup/edits`; what cannot be is told as a
 * sentence and changes nothing.
 */
import { SvelteMap } from 'svelte/reactivity';
import type { Edited } from '$lib/setup/edits/edited';
import { movePull, type Cell } from '$lib/setup/edits/pulls';
import { unreachable, type Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { pressed } from '$lib/search/hold';
import { controlsView } from '$lib/ui/explore/neckAdapter';
import type { Typing } from '$lib/ui/kit/fieldText.svelte';
import { FIRST_CONTROL, within, type Spot } from './chartKeys';
import {
  cellAt,
  controlAt,
  editAt,
  isUnsettled,
  labelOf,
  nudgeAt,
  oddAt,
  spotKey,
  textAt,
  whereOf,
  type Edit,
  type Refused,
} from './chartSpots';
import { chartView } from './chartView';
import type { Consequences } from './consequences.svelte';
import { Draft, type Worked } from './draft.svelte';
import { picture } from './pullView';

export class Bench {
  readonly consequences: Consequences;
  #worked: Worked;
  /** The setup before the last edit, and the label of that edit. */
  #before: Setup;
  #lastTyped = '';
  /** The label of the last edit that was not typed into a cell. */
  #lastMade = '';
  /** What is worked on is not the player's own: the first edit goes to a copy. */
  #lent = false;
  /** Gives the copy that the first edit of a setup goes to. */
  onfirst: (setup: Setup) => Worked = (setup) => new Draft(setup);

  neck = $state(1);
  spot = $state.raw<Spot>({ row: 1, column: FIRST_CONTROL });
  /** What a cell was refused, by its row and column. */
  readonly refused = new SvelteMap<string, Refused>();
  /** Why the last action outside the chart cannot be; a sentence. */
  fault = $state('');
  /** One sentence about the last action, for screen readers too. */
  notice = $state('');
  #held = $state.raw<Choice>([]);
  #chosen = $state('');

  get setup(): Setup {
    return this.#worked.value;
  }
  readonly neckNumber = $derived.by(() => Math.min(this.neck, this.setup.necks.length));
  readonly chart = $derived.by(() => chartView(this.setup, this.neckNumber));
  readonly size = $derived.by(() => ({
    strings: this.chart.rows.length,
    controls: this.chart.controls.length,
  }));
  readonly here = $derived.by(() => within(this.spot, this.size));
  /** What the stand holds, as far as the setup has it. */
  readonly engaged = $derived.by((): Choice => {
    const known = this.#held.filter(({ id }) => this.setup.controls.some((c) => c.id === id));
    return unreachable(this.setup, known) === undefined ? known : [];
  });
  readonly stand = $derived.by(() => controlsView(this.setup, this.neckNumber, this.engaged));
  /** The control whose pulls the picture sets. */
  readonly chosen = $derived.by(
    () => this.setup.controls.find(({ id }) => id === this.#chosen) ?? this.setup.controls[0],
  );
  readonly picture = $derived.by(() =>
    picture(this.setup, this.neckNumber, this.chosen, this.engaged),
  );

  constructor(worked: Worked, consequences: Consequences) {
    this.#worked = $state.raw(worked);
    this.#before = $state.raw(worked.value);
    this.consequences = consequences;
  }

  get worked(): Worked {
    return this.#worked;
  }
  /** The label of the edit that the consequences are of. */
  get lastEdit(): string | undefined {
    return this.#before === this.setup ? undefined : this.worked.undoes;
  }

  /** Works on another setup from now on; one that is `lent` stays as it is. */
  take(worked: Worked, neck = 1, { lent = false }: { readonly lent?: boolean } = {}): void {
    this.#worked = worked;
    this.#lent = lent;
    this.neck = neck;
    this.spot = { row: 1, column: FIRST_CONTROL };
    this.#held = [];
    this.#chosen = '';
    this.notice = '';
    this.#settle(this.setup);
  }

  /** Another tab has edited what is worked on here. */
  follow(): void {
    void this.consequences.compare(this.#before, this.setup);
  }

  /** What an edit gives; the first of a setup that is not the player's own is made on a copy. */
  #edited(edit: Edit): Edited {
    const next = edit(this.setup);
    if (!next.ok || !this.#lent) return next;
    this.#lent = false;
    this.#worked = this.onfirst(this.setup);
    return edit(this.setup);
  }

  #settle(before: Setup): void {
    this.refused.clear();
    this.fault = '';
    this.#lastTyped = '';
    this.#compare(before);
  }

  #compare(before: Setup): void {
    this.#before = before;
    void this.consequences.compare(before, this.setup);
  }

  /**
   * Makes an edit that is not typed into a cell; tells whether it could be made. One that `joins` goes on
   * with the one made before it, as letters typed into a field do.
   */
  make(edit: Edit, label: string, { joins = false, ...typing }: Partial<Typing> = {}): boolean {
    const next = this.#edited(edit);
    const before = this.setup;
    this.notice = '';
    if (!next.ok) {
      this.fault = next.error;
      return false;
    }
    this.worked.edit(next.value, label, { joins: joins && this.#lastMade, ...typing });
    this.#settle(joins ? this.#before : before);
    this.#lastMade = label;
    this.notice = `${label}.`;
    return true;
  }

  /** Makes an edit of a field; its fault is given, to stand at the field. */
  fill(edit: Edit, label: string, options: Typing): string | undefined {
    const made = this.make(edit, label, options);
    const why = made ? undefined : this.fault;
    this.fault = '';
    return why;
  }

  /** Makes an edit while it is typed; those of one cell are one step. */
  #type(edit: Edit, label: string): string | undefined {
    const next = this.#edited(edit);
    const before = this.setup;
    if (!next.ok) return next.error;
    const joins = this.#lastTyped === label;
    this.worked.edit(next.value, label, { joins });
    this.#compare(joins ? this.#before : before);
    this.#lastTyped = label;
    return undefined;
  }

  undo(): void {
    this.#step(() => {
      this.notice = `Undone: ${this.worked.undoes ?? ''}.`;
      this.worked.undo();
    });
  }

  redo(): void {
    this.#step(() => {
      this.notice = `Redone: ${this.worked.redoes ?? ''}.`;
      this.worked.redo();
    });
  }

  #step(change: () => void): void {
    const before = this.setup;
    change();
    this.#settle(before);
  }

  cellAt(spot: Spot): Cell | undefined {
    return cellAt(this.chart, this.neckNumber, spot);
  }

  goTo(spot: Spot): void {
    this.spot = within(spot, this.size);
    const id = controlAt(this.chart, this.spot);
    if (id !== undefined) this.#chosen = id;
  }

  choose(id: string): void {
    this.#chosen = id;
  }

  /** What stands at a spot, as it is typed; `undefined` where nothing can be typed. */
  textAt(spot: Spot): string | undefined {
    return textAt(this.chart, spot);
  }

  whereOf(spot: Spot): string {
    return whereOf(this.chart, spot);
  }

  editAt(spot: Spot, text: string): Edit | undefined {
    return editAt(this.chart, this.neckNumber, spot, text);
  }

  /** A text on its way: what can be read of it counts at once, the rest waits. */
  typing(spot: Spot, text: string): void {
    // an id on its way is often another control's, and a name half typed is none
    const edit = spot.row === 0 || isUnsettled(text) ? undefined : this.editAt(spot, text);
    if (edit === undefined || oddAt(this.setup, this.neckNumber, spot, edit)) return;
    this.#type(edit, this.whereOf(spot));
  }

  /**
   * A text is finished. Where it cannot be, the cell goes back to `was` and says why; so it does with an
   * unlikely gauge, which is taken when it is entered once more.
   */
  enter(spot: Spot, text: string, was: string): boolean {
    const where = labelOf(this.chart, spot, text);
    const key = spotKey(spot);
    const edit = this.editAt(spot, text);
    if (edit === undefined) return false;
    const unchanged = text === was && this.textAt(spot) === was;
    const askedBefore = this.refused.get(key)?.text === text;
    const odd =
      unchanged || askedBefore ? undefined : oddAt(this.setup, this.neckNumber, spot, edit);
    const why = unchanged ? undefined : (odd ?? this.#type(edit, where));
    if (why === undefined) {
      this.refused.delete(key);
      if (spot.row === 0) this.#chosen = controlAt(this.chart, spot) ?? '';
    } else {
      this.leave(spot, was);
      this.refused.set(key, { spot, where, text, why });
    }
    this.#lastTyped = '';
    return why === undefined;
  }

  /** What was typed is given up. */
  leave(spot: Spot, was: string): void {
    const edit = this.editAt(spot, was);
    if (edit !== undefined && this.textAt(spot) !== was) this.#type(edit, this.whereOf(spot));
    this.refused.delete(spotKey(spot));
    this.#lastTyped = '';
  }

  /** A semitone up or down, for a pull or an open string. */
  nudge(spot: Spot, by: 1 | -1): void {
    const edit = nudgeAt(this.chart, this.neckNumber, spot, by);
    if (edit === undefined) return;
    this.refused.delete(spotKey(spot));
    this.fault = this.#type(edit, this.whereOf(spot)) ?? '';
  }

  /** The picture's way to the same pull: a string's end drawn so far. */
  pull(string: number, semitones: number): void {
    const id = this.chosen?.id;
    if (id === undefined) return;
    const cell = { id, neck: this.neckNumber, string };
    this.fault =
      this.#type((setup) => movePull(setup, cell, semitones), `${id} on string ${string}`) ?? '';
  }

  /** A string's end is let go: the next pull is another step. */
  released(): void {
    this.#lastTyped = '';
  }

  press(id: string): void {
    const { hold, letGo } = pressed(
      this.setup,
      { neck: this.neckNumber, fret: 0, slant: 0, engaged: this.engaged, strings: [] },
      id,
    );
    this.#held = hold.engaged;
    this.#chosen = id;
    this.notice = letGo;
  }

  changeNeck(neck: number): void {
    this.neck = neck;
    this.refused.clear();
    this.spot = within(this.spot, this.size);
  }
}
