/** What the lines of a chart tell, one after the other: of a control, of a string, or in lists under either. */
import { clauseOf, type Clause } from './clause';
import type { Piece } from './doubts';
import type { Listed } from './listColumns';
import type { NoteWord } from './noteWord';
import { openNotesIn } from './openNotes';
import { groupsIn, itemsIn, type Group, type Item } from './phrases';
import { pullOf } from './pull';
import type { Placed } from './pullTokens';
import type { NotedPull, WrittenControl, WrittenPull, WrittenString } from './reading';
import { readStationName, type StationName } from './stationName';
import { usualLettersIn, usualPullsOf } from './usualPulls';

const keyOf = ({ station, called }: StationName): string => station ?? called ?? '';

const pullFrom =
  (tokens: readonly Placed[], sticky: -1 | 0 | 1): WrittenPull['travel'] =>
  (open, manner, place) =>
    pullOf(tokens, open, manner, place, sticky);

/** The words of some tokens, where they stand. */
function wordsOf({ text, at }: Piece, tokens: readonly Placed[]): Piece {
  const begin = tokens[0]?.at ?? 0;
  const last = tokens.at(-1);
  return { text: text.slice(begin, (last?.at ?? 0) + (last?.length ?? 0)), at: at + begin };
}

/** A line in which nothing but a control stands, so that what follows is under it. */
function headIn({ text, at }: Piece): { name: StationName; piece: Piece } | undefined {
  const body = text.replace(/^[\s#*•>-]+/u, '');
  const plain = body.replace(/[\s:*.=-]+$/u, '');
  if (plain === '' || plain.length > 40) return undefined;
  const name = readStationName(plain);
  const isName =
    name?.station !== undefined ||
    name?.kind !== undefined ||
    (name !== undefined && /:\s*\**$/u.test(body));
  return isName ? { name, piece: { text: plain, at: at + text.indexOf(plain) } } : undefined;
}

/** Nothing is done to a string: nothing stands there, or words that say so. */
const NO_PULL =
  /^[\s|.:-]*(?:(?:left|leave) alone|nothing|none|no (?:changes?|pulls?)|unchanged|stays|unverändert|bleibt|nichts)?[\s|.:-]*$/iu;

/** How far a line is moved in, a bullet counted. */
const indentOf = (text: string): number => /^[\s*•-]*/u.exec(text)?.[0].length ?? 0;

/** A heading that says which way all below it goes; 0 where one ends that. */
function wayIn(text: string): -1 | 0 | 1 | undefined {
  const word = text.replace(/[\s#*:=_.-]+/gu, ' ').trim();
  if (/^(?:raises?|raised|up|hebt|höher|hoch|erhöht)$/iu.test(word)) return 1;
  if (/^(?:lowers?|lowered|down|senkt|tiefer|erniedrigt)$/iu.test(word)) return -1;
  return undefined;
}

function withoutBullet({ text, at }: Piece): Piece {
  const lead = /^\s*(?:[*•·-]\s+)?/u.exec(text)?.[0].length ?? 0;
  return { text: text.slice(lead), at: at + lead };
}

/** A line that others may stand under: a control, or a string. */
type Over =
  | { readonly by: 'control'; readonly name: StationName; readonly piece: Piece; taken: number }
  | { readonly by: 'string'; readonly index: number; readonly indent: number };

type OfControl = Extract<Clause, { by: 'control' }>;
type OfString = Extract<Clause, { by: 'string' }>;

/** What the lines of a chart tell, one after the other. */
export class Lines {
  readonly controls: WrittenControl[] = [];
  readonly strings = new Map<number, WrittenString>();
  /** Strings that have no number, in the order of their lines. */
  readonly unnumbered: WrittenString[] = [];
  readonly pulls: WrittenPull[] = [];
  readonly byNote: NotedPull[] = [];
  readonly beside: Piece[] = [];
  readonly leftOut: Piece[] = [];
  tuning: readonly WrittenString[] | undefined;
  /** The open notes stand string 1 last. */
  turned = false;
  score = 0;
  #over: Over | undefined;
  /** The way that a line before says: `Raises`, and below it what is raised. */
  #way: -1 | 0 | 1 = 0;
  /** The strings that were spoken of last, for `them`. */
  #spoken: { readonly numbers: readonly number[]; readonly note?: NoteWord } = { numbers: [] };

  take(piece: Piece): void {
    const clause = clauseOf(piece);
    if (this.#takeUnder(piece, clause)) return;
    this.end();
    const way = wayIn(piece.text);
    if (way !== undefined) {
      this.#way = way;
      return;
    }
    const head = clause?.by === 'control' ? undefined : headIn(piece);
    if (head !== undefined) {
      this.#over = { by: 'control', ...head, taken: 0 };
      return;
    }
    const open = clause?.by === 'control' ? undefined : openNotesIn(piece);
    // the notes of a string's own pulls are no tuning
    const isOfString =
      clause?.by === 'string' &&
      clause.label.note !== undefined &&
      // `E9:` is a tuning's name
      (clause.label.note.octave ?? 0) < 6 &&
      open?.strings.some(({ number }) => number === undefined) === true &&
      itemsIn(clause.rest).items.length > 0;
    if (open !== undefined && !isOfString && this.tuning === undefined) {
      this.tuning = open.strings;
      this.turned = open.turned;
      this.beside.push(...open.beside);
      this.score += open.strings.length * 3;
      return;
    }
    const isTaken =
      clause?.by === 'control'
        ? this.#takeControl(clause)
        : clause?.by === 'string' && this.#takeString(clause, indentOf(piece.text));
    if (!isTaken && !this.#takeUsual(piece))
      this.beside.push({ text: piece.text.trim(), at: piece.at });
  }

  /** `A, B and C are standard`. */
  #takeUsual(piece: Piece): boolean {
    const letters = usualLettersIn(piece);
    for (const letter of letters ?? []) {
      const control = this.#controlOf({ called: letter }, piece);
      this.pulls.push(...usualPullsOf(letter, control, piece));
      this.score += 1;
    }
    return letters !== undefined;
  }

  /** A control that nothing stands under is a line that was not read. */
  end(): void {
    if (this.#over?.by === 'control' && this.#over.taken === 0) this.beside.push(this.#over.piece);
    this.#over = undefined;
  }

  /** A line of a list: strings under their control, or controls under their string. */
  #takeUnder(piece: Piece, clause: Clause | undefined): boolean {
    const over = this.#over;
    if (over === undefined) return false;
    if (over.by === 'control') {
      const cell = withoutBullet(piece);
      if (clause?.by === 'control' || !this.takeListed({ ...over, head: over.piece, cell }))
        return false;
      over.taken++;
      return true;
    }
    if (indentOf(piece.text) <= over.indent) return false;
    const { items, unread } = itemsIn(piece);
    if (items.length === 0 || unread.length > 0) return false;
    this.#takeItems(items, over.index, piece);
    return true;
  }

  /** What stands under a control, if it is pulls. */
  takeListed({ name, head, cell }: Pick<Listed, 'name' | 'head' | 'cell'>): boolean {
    const { groups, unread } = groupsIn(cell, name.way ?? this.#way);
    if (groups.length === 0 || unread.length > 0) return false;
    const control = this.#controlOf(name, head);
    this.score += name.station === undefined ? 1 : 3;
    for (const group of groups) this.#takeGroup(group, control, wordsOf(cell, group.tokens));
    return true;
  }

  #controlOf(name: StationName, piece: Piece): number {
    const found = this.controls.findIndex(
      (each) =>
        keyOf(each.name) === keyOf(name) ||
        (name.called !== undefined && each.name.called === name.called),
    );
    return found >= 0 ? found : this.controls.push({ name, piece }) - 1;
  }

  #leave(unread: readonly Piece[]): void {
    this.leftOut.push(...unread);
    if (unread.length > 0) this.score -= 1;
  }

  #takeControl({ name, head, rest }: OfControl): boolean {
    const { groups, unread } = groupsIn(rest, name.way ?? this.#way);
    if (groups.length === 0) return false;
    const control = this.#controlOf(name, head);
    this.#leave(unread);
    this.score += name.station === undefined ? 1 : 3;
    for (const group of groups) this.#takeGroup(group, control, wordsOf(rest, group.tokens));
    return true;
  }

  #takeGroup({ numbers, tokens, sticky, refers }: Group, control: number, piece: Piece): void {
    const first = tokens.find(({ token }) => token.kind === 'note')?.token;
    // `raises E to F`: the first note says which strings
    const own = numbers.length === 0 && first?.kind === 'note' && !refers ? first.note : undefined;
    if (!refers) this.#spoken = { numbers, ...(own === undefined ? {} : { note: own }) };
    const { numbers: spoken, note } = this.#spoken;
    this.score += 2 * Math.max(1, spoken.length);
    const said = tokens.filter(
      ({ token }) => token.kind !== 'note' || (token.note !== own && !token.isPlural),
    );
    const travel = pullFrom(said, sticky);
    for (const number of spoken) this.pulls.push({ string: number - 1, control, piece, travel });
    if (spoken.length > 0) return;
    if (note === undefined) this.leftOut.push(piece);
    else this.byNote.push({ note, control, piece, travel });
  }

  #takeString({ label, head, rest }: OfString, indent: number): boolean {
    const { items, unread } = itemsIn(rest);
    const isBare = label.note !== undefined && NO_PULL.test(rest.text);
    if (items.length === 0 && !isBare) return false;
    this.#leave(unread);
    const string: WrittenString = { ...label, piece: head };
    const index = label.number === undefined ? this.unnumbered.push(string) - 1 : label.number - 1;
    if (label.number !== undefined)
      this.strings.set(index, { ...this.strings.get(index), ...string });
    this.score += label.note === undefined ? 1 : 2;
    this.#takeItems(items, index, rest);
    if (isBare) this.#over = { by: 'string', index, indent: indent };
    return true;
  }

  #takeItems(items: readonly Item[], string: number, within: Piece): void {
    for (const item of items) {
      this.score += 2;
      const control = this.#controlOf(item.name, item.head);
      const piece = wordsOf(within, item.tokens);
      this.pulls.push({
        string,
        control,
        piece,
        travel: pullFrom(item.tokens, item.name.way ?? 0),
      });
    }
  }

  /** Every string: as its own line says, and as the line of open notes does. */
  all(): readonly WrittenString[] {
    if (this.unnumbered.length > 0 && this.strings.size === 0 && this.tuning === undefined)
      return this.unnumbered;
    const count = Math.max(
      this.tuning?.length ?? 0,
      ...[...this.strings.keys()].map((key) => key + 1),
      ...this.pulls.map(({ string }) => string + 1),
    );
    return Array.from({ length: count }, (_, index): WrittenString => {
      const own = this.strings.get(index);
      const opened = this.tuning?.[index];
      const piece = own?.piece ?? opened?.piece ?? { text: '', at: 0 };
      return { ...opened, ...own, number: index + 1, piece };
    });
  }
}
