/**
 * A piece with some of its form written out: repeated parts pass by pass, and what a jump plays again. What
 * stands in one place only may be played otherwise each time, and formats without a sign for it need it so.
 */
import { orderOf } from './inOrder';
import { SAME_PLACE, type Measure, type Piece, type PieceNote } from './piece';
import { DEFAULT_METRE, DEFAULT_TEMPO, type Metre } from './progression';

/** What is to be written out. */
export interface WritingOut {
  /** What a jump leads to. */
  readonly jump: boolean;
  /** A repeated part, its endings with it, by its first and last measure. */
  readonly part: (from: number, to: number) => boolean;
}

/** A piece partly written out. */
export interface WrittenOut {
  readonly piece: Piece;
  /** By measure: where in the order of playing it is played first; nothing where it never is. */
  readonly played: readonly (number | undefined)[];
}

/** A repeated part with its endings: its first and its last measure. */
interface Part {
  readonly from: number;
  readonly to: number;
}

/** The repeated parts of a piece, in order. */
export function repeatedParts(measures: readonly Measure[]): Part[] {
  const parts: Part[] = [];
  let from = 0;
  let repeats = false;
  measures.forEach((measure, at) => {
    if (measure.repeats === true) from = at;
    repeats ||= measure.times !== undefined;
    const next = measures[at + 1];
    const inEndings = measure.endings !== undefined && next?.endings !== undefined;
    const isOver =
      (measure.endings === undefined && measure.times !== undefined) ||
      (measure.endings !== undefined && (!inEndings || next.repeats === true));
    if (!isOver) return;
    if (repeats) parts.push({ from, to: at });
    [from, repeats] = [at + 1, false];
  });
  return parts;
}

/** Metre and tempo at the beginning and at the end of every measure, as they are written. */
function inForce({ measures, metre = DEFAULT_METRE, tempo = DEFAULT_TEMPO }: Piece) {
  let [metreNow, tempoNow] = [metre, tempo];
  return measures.map((measure) => {
    metreNow = measure.metre ?? metreNow;
    const first = measure.tempos?.find(({ at }) => at < SAME_PLACE)?.tempo ?? tempoNow;
    tempoNow = measure.tempos?.at(-1)?.tempo ?? tempoNow;
    return { metre: metreNow, first, last: tempoNow };
  });
}

/** The words of one pass; a single verse is for all of them. */
function inPass({ lyrics, ...note }: PieceNote, pass: number): PieceNote {
  const syllable = lyrics?.[lyrics.length === 1 ? 0 : pass - 1];
  return { ...note, ...(syllable === undefined ? {} : { lyrics: [syllable] }) };
}

/** What is heard of a measure in one pass, without its signs. */
function plain(measure: Measure, pass: number): Measure {
  const { key, lasts, section, chords, notes, words } = measure;
  return {
    ...(key === undefined ? {} : { key }),
    ...(lasts === undefined ? {} : { lasts }),
    ...(section === undefined ? {} : { section }),
    chords,
    notes: notes.map((note) => inPass(note, pass)),
    ...(words === undefined ? {} : { words }),
  };
}

const isJumped = ({ segno, coda, toCoda, fine, jump }: Measure): boolean =>
  [segno, coda, toCoda, fine, jump].some((sign) => sign !== undefined);

const sameMetre = (a: Metre, b: Metre): boolean => a.beats === b.beats && a.unit === b.unit;

/** Writes out what is asked, and all of it where its endings are none; the piece is played as before. */
export function writtenOut(piece: Piece, { jump, part }: WritingOut, most?: number): WrittenOut {
  const { measures } = piece;
  const { order } = orderOf(measures, most);
  if (!hasCommonEndings(measures)) return asPlayed(piece, order);
  const parts = repeatedParts(measures);
  const segno = measures.findIndex((each) => each.segno === true);
  // up to the first jump the piece goes as it is written, repeats apart; a jump to the very next measure is one
  // too, for after it repeats are not taken
  const leaves = order.findIndex((at, index) => {
    const next = order[index + 1];
    const jumpsOn = measures[at]?.jump?.to === 'segno' && segno === at + 1;
    return measures[at]?.jump !== undefined && next !== undefined && (next !== at + 1 || jumpsOn);
  });
  // a jump into a part that is written out would not know its passes
  const jumps = leaves >= 0 && (jump || parts.some(({ from, to }) => part(from, to)));
  const head = jumps ? order.slice(0, leaves + 1) : order;
  const until = jumps ? Math.max(...head) : measures.length - 1;

  const out: Out[] = [];
  for (let at = 0; at <= until; at++) {
    const own = parts.find(({ from }) => from === at);
    if (own === undefined || !part(own.from, own.to)) {
      const played = head.indexOf(at);
      out.push({ at, pass: 1, signs: true, played: played < 0 ? undefined : played });
      continue;
    }
    let pass = 0;
    // the passes stand in a row
    for (let played = head.indexOf(own.from); played >= 0 && played < head.length; played++) {
      const each = head[played] as number;
      if (each < own.from || each > own.to) break;
      if (each === own.from) pass++;
      out.push({ at: each, pass, signs: false, played });
    }
    at = own.to;
  }
  if (jumps)
    order
      .slice(head.length)
      .forEach((at, index) => out.push({ at, pass: 1, signs: false, played: head.length + index }));

  const as = composed(piece, out, jumps);
  const again = orderOf(as.measures, most).order.map((at) => out[at]?.at);
  if (again.join() === order.join()) return { piece: as, played: out.map(({ played }) => played) };
  // signs that lie across one another
  return asPlayed(piece, order);
}

/**
 * The piece with what is not played alike each time written out, and all else as it stands.
 *
 * @param order as the piece is played, or as far as that goes
 * @param isAlike whether what is played at one place of the order is what is played of that measure at another
 */
export function writtenWhereAlike(
  piece: Piece,
  order: readonly number[],
  isAlike: (at: number, first: number) => boolean,
): WrittenOut & { readonly isWrittenOut: boolean } {
  const leaves = order.findIndex(
    (measure, at) =>
      piece.measures[measure]?.jump !== undefined &&
      at + 1 < order.length &&
      order[at + 1] !== measure + 1,
  );
  /** Where in the order each measure is played first. */
  const first = new Map<number, number>();
  const differing = order.flatMap((measure, at) => {
    const other = first.get(measure) ?? at;
    first.set(measure, other);
    return at === other || isAlike(at, other) ? [] : [{ measure, at }];
  });
  const isBehindJump = (at: number): boolean => leaves >= 0 && at > leaves;
  const written = writtenOut(piece, {
    jump: differing.some(({ at }) => isBehindJump(at)),
    part: (from, to) =>
      differing.some(({ measure, at }) => measure >= from && measure <= to && !isBehindJump(at)),
  });
  return { ...written, isWrittenOut: differing.length > 0 };
}

/** Nothing but what is played. */
function asPlayed(piece: Piece, order: readonly number[]): WrittenOut {
  const all = order.map((at, played) => ({ at, pass: 1, signs: false, played }));
  return { piece: composed(piece, all, true), played: [...order.keys()] };
}

/**
 * Are the endings of a piece such as all notations have them: behind what is played before each of them, numbered in
 * their order from 1 without a gap, each but the last with its repeat sign at its end?
 */
function hasCommonEndings(measures: readonly Measure[]): boolean {
  let next = 1;
  let hasBody = false;
  return measures.every(({ endings, repeats, times }, at) => {
    const before = measures[at - 1];
    const after = measures[at + 1];
    if (endings === undefined) {
      // behind a repeat sign there is nothing left to end
      if (times !== undefined && after?.endings !== undefined) return false;
      hasBody = times === undefined;
      next = 1;
      return true;
    }
    if (!hasBody || repeats === true) return false;
    if (before?.endings?.join() !== endings.join() || before.times !== undefined) {
      if (before?.endings !== undefined && before.times === undefined) return false;
      if (endings.some((pass, index) => pass !== next + index)) return false;
      next += endings.length;
    }
    const isOver = after?.endings?.join() !== endings.join();
    // more passes than one need the sign too
    if (isOver && after?.endings === undefined) return times !== undefined || endings.length === 1;
    return isOver === (times !== undefined);
  });
}

/** The piece as it is played, where its endings are none that all notations have; else as it is. */
export function withCommonEndings(piece: Piece): Piece {
  return hasCommonEndings(piece.measures)
    ? piece
    : asPlayed(piece, orderOf(piece.measures).order).piece;
}

/** A measure that is to stand in the piece, in which pass, with or without its signs. */
interface Out {
  readonly at: number;
  readonly pass: number;
  readonly signs: boolean;
  readonly played: number | undefined;
}

/** The measures in a row; metre and tempo are told where they are others than before. */
function composed(piece: Piece, out: readonly Out[], jumps: boolean): Piece {
  const { measures } = piece;
  const holds = inForce(piece);
  let metre = piece.metre ?? DEFAULT_METRE;
  let tempo = piece.tempo ?? DEFAULT_TEMPO;
  const named = new Set<number>();
  const written = out.map(({ at, pass, signs }): Measure => {
    const own = measures[at] as Measure;
    const held = holds[at] as (typeof holds)[number];
    const base = signs ? withoutJumps(own, jumps) : plain(own, pass);
    const { section, ...rest } = base;
    const later = (own.tempos ?? []).filter((mark) => mark.at >= SAME_PLACE);
    const tempos = tempo === held.first ? later : [{ at: 0, tempo: held.first }, ...later];
    const changes = !sameMetre(metre, held.metre);
    const again = named.has(at);
    named.add(at);
    [metre, tempo] = [held.metre, held.last];
    return {
      ...rest,
      ...(section === undefined || (again && !jumps) ? {} : { section }),
      ...(changes ? { metre: held.metre } : {}),
      ...(tempos.length === 0 ? {} : { tempos }),
    };
  });
  return { ...piece, measures: written };
}

/** A measure with the signs that stay: where the jump is written out, none that speak of it. */
function withoutJumps(measure: Measure, jumps: boolean): Measure {
  const { metre: _metre, tempos: _tempos, ...rest } = measure;
  if (!jumps || !isJumped(measure)) return rest;
  const { segno: _s, coda: _c, toCoda: _t, fine: _f, jump: _j, ...plainer } = rest;
  return plainer;
}

/**
 * The piece without parts that are played more than twice alike: some formats know but one sign of
 * repeat, so that the third time and those after it are written out.
 */
export function twiceAtMost(piece: Piece): Piece {
  const measures: Measure[] = [];
  let from = 0;
  let isOpen = true;
  for (const [at, own] of piece.measures.entries()) {
    // what is written out ends with no sign, behind which a part would begin by itself
    const measure: Measure = isOpen ? own : { ...own, repeats: true };
    isOpen = true;
    if (measure.repeats === true) from = at;
    const { times = 1, endings } = measure;
    if (times < 2 || endings !== undefined) {
      measures.push(measure);
      continue;
    }
    measures.push({ ...measure, times: 2 });
    for (let time = 2; time < times; time++)
      measures.push(...piece.measures.slice(from, at + 1).map(onceMore));
    from = at + 1;
    isOpen = !isRepeated(piece.measures, from);
  }
  return { ...piece, measures };
}

/** Does a part begin at a measure that is repeated, whether a sign opens it or not? */
const isRepeated = (measures: readonly Measure[], from: number): boolean =>
  repeatedParts(measures).some((part) => part.from === from);

/** What is heard of a measure, without its name and its signs. */
const onceMore = ({ metre, key, tempos, lasts, chords, notes }: Measure): Measure => ({
  ...(metre === undefined ? {} : { metre }),
  ...(key === undefined ? {} : { key }),
  ...(tempos === undefined ? {} : { tempos }),
  ...(lasts === undefined ? {} : { lasts }),
  chords,
  notes,
});
