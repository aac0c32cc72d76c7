/**
 * Charts in lines: one for a string (`5 B: A +2, C +2`), one for a control (`LKL: 4 +1, 8 +1`), or
 * sentences (`Pedal A raises strings 5 and 10 a whole tone`), English or German.
 */
import { clauseOf, stationAt, type Clause } from './clause';
import { linesOf } from './cutting';
import type { Piece } from './doubts';
import { readNoteWord, type NoteWord } from './noteWord';
import { groupsIn, itemsIn, type Group } from './phrases';
import { pullOf } from './pull';
import type { Placed } from './pullTokens';
import type { NotedPull, Written, WrittenControl, WrittenPull, WrittenString } from './reading';
import type { StationName } from './stationName';

/** Open notes in a row: `Tuning: F# D# G# E`, or notes alone. */
function tuningIn(piece: Piece): WrittenString[] | undefined {
  const match =
    /^(.*?(?:tuning|open|strings?|stimmung|saiten|notes?|töne)[^:=]*[:=]?)?\s*(.*)$/iu.exec(
      piece.text.trim(),
    );
  const body = match?.[2] ?? '';
  const words = [...body.matchAll(/[^\s,;|/–]+/gu)].filter((word) => !/^-+$/.test(word[0]));
  const strings: WrittenString[] = [];
  const offset = piece.at + piece.text.indexOf(body);
  for (const word of words) {
    const note = readNoteWord(word[0].replace(/[.)]$/u, ''));
    if (note === undefined) {
      if (/^\d{1,2}[.:]?$/.test(word[0])) continue;
      return undefined;
    }
    strings.push({ note, piece: { text: word[0], at: offset + word.index } });
  }
  return strings.length >= (match?.[1] === undefined ? 4 : 3) && strings.length <= 14
    ? strings
    : undefined;
}

const isOfControl = (text: string): boolean => clauseOf({ text, at: 0 })?.by === 'control';

/** A line cut where another control begins: behind a full stop, a semicolon, or a comma in a sentence. */
function sentencesOf(line: Piece): Piece[] {
  const pieces: Piece[] = [];
  let from = 0;
  for (const match of line.text.matchAll(/[.;,]\s+(?:and\s+|und\s+)?(?=[\p{L}*])/gu)) {
    const before = line.text.slice(from, match.index);
    const rest = line.text.slice(match.index + match[0].length);
    if (/^\d{0,2}$/u.test(before.trim()) || !isOfControl(rest)) continue;
    if (match[0].startsWith(',') && !(isOfControl(before) && stationAt(rest, 0)?.name.station))
      continue;
    pieces.push({ text: before, at: line.at + from });
    from = match.index + match[0].length;
  }
  pieces.push({ text: line.text.slice(from), at: line.at + from });
  return pieces;
}

/** The sentences of a text: its lines, and where a line only goes on with the one before, both in one. */
function piecesOf(text: string): Piece[] {
  const lines: Piece[] = [];
  for (const { text: line, at } of linesOf(text)) {
    const before = lines.at(-1);
    const goesOn =
      before !== undefined &&
      !isOfControl(line) &&
      /[\p{L}\d,#]\s*$/u.test(before.text) &&
      /^(?:and|und|with|mit|to|from|or|plus|\p{Ll}{2,}) /u.test(line.trim()) &&
      before.text.split(' ').length > 6;
    if (goesOn)
      lines[lines.length - 1] = {
        text: text.slice(before.at, at + line.length).replace(/\n/gu, ' '),
        at: before.at,
      };
    else lines.push({ text: line, at });
  }
  return lines.flatMap(sentencesOf);
}

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

type OfControl = Extract<Clause, { by: 'control' }>;
type OfString = Extract<Clause, { by: 'string' }>;

/** What the lines of a chart tell, one after the other. */
class Lines {
  readonly controls: WrittenControl[] = [];
  readonly strings = new Map<number, WrittenString>();
  /** Strings that have no number, in the order of their lines. */
  readonly unnumbered: WrittenString[] = [];
  readonly pulls: WrittenPull[] = [];
  readonly byNote: NotedPull[] = [];
  readonly beside: Piece[] = [];
  readonly leftOut: Piece[] = [];
  tuning: readonly WrittenString[] | undefined;
  score = 0;
  /** The strings that were spoken of last, for `them`. */
  #spoken: { readonly numbers: readonly number[]; readonly note?: NoteWord } = { numbers: [] };

  take(piece: Piece): void {
    const clause = clauseOf(piece);
    const open = clause?.by === 'control' ? undefined : tuningIn(piece);
    if (open !== undefined && this.tuning === undefined) {
      this.tuning = open;
      this.score += open.length * 3;
      return;
    }
    const isTaken =
      clause?.by === 'control'
        ? this.#takeControl(clause)
        : clause?.by === 'string' && this.#takeString(clause);
    if (!isTaken) this.beside.push({ text: piece.text.trim(), at: piece.at });
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
    const { groups, unread } = groupsIn(rest, name.way ?? 0);
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

  #takeString({ label, head, rest }: OfString): boolean {
    const { items, unread } = itemsIn(rest);
    const isBare = label.note !== undefined && rest.text.trim() === '';
    if (items.length === 0 && !isBare) return false;
    this.#leave(unread);
    const string: WrittenString = { ...label, piece: head };
    const index = label.number === undefined ? this.unnumbered.push(string) - 1 : label.number - 1;
    if (label.number !== undefined)
      this.strings.set(index, { ...this.strings.get(index), ...string });
    this.score += label.note === undefined ? 1 : 2;
    for (const item of items) {
      this.score += 2;
      const control = this.#controlOf(item.name, item.head);
      const piece = wordsOf(rest, item.tokens);
      this.pulls.push({ string: index, control, piece, travel: pullFrom(item.tokens, 0) });
    }
    return true;
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

/** Leaders and brackets are there for the eye. */
const FOR_THE_EYE = /(?<=\s)\.+(?=\s|$)|\.{3,}|[[\]{}]/gu;

/** Reads a text line by line; `undefined` where no line speaks of controls. */
export function sentencesIn(chart: string): Written | undefined {
  const text = chart.replace(FOR_THE_EYE, (found) => ' '.repeat(found.length));
  const read = new Lines();
  for (const piece of piecesOf(text)) if (piece.text.trim() !== '') read.take(piece);
  const { controls, strings, unnumbered, pulls, byNote, beside, leftOut, score } = read;
  // a text in which a line here and there looks like one of a chart is none
  const lines = strings.size + unnumbered.length + controls.length;
  if (pulls.length + byNote.length === 0 || beside.length > 4 + 4 * lines) return undefined;
  return { necks: [{ strings: read.all(), controls, pulls, byNote, leftOut }], beside, score };
}
