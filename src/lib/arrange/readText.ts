/**
 * A progression as people type it:
 *
 *     title: Evening on the Lantern Road
 *     key: C   tempo: 92   metre: 4/4   (each on a line of its own)
 *     [Verse]
 *     C . . G7 | Am7 | Dm7 G7 | C
 *     melody: E4 - - F4 | E4 | D4 B3 | C4
 *
 * Bars stand between bar lines or on lines of their own. The chords of a bar have equal shares; a `.`
 * or `/` lets the chord before go on for one share more. `%` alone in a bar repeats the bar before,
 * and among chords the chord before. `|:` and `:|` play what is between them twice, `:|x3` three times.
 * A `metre:` or `tempo:` line below chords changes it from there on, and `pickup: 1/4` says how long the first bar is.
 * Endings begin with their number (`|1. F :|2. C ||`); `(Segno)`, `(To Coda)`, `(Coda)`, `(Fine)`, `(D.C. al Fine)`
 * and the like say where it goes on. A melody note stands behind its chord (`Am7:E4`) or in a line that begins with `melody:` below its
 * chords, one for each chord, `-` for none; without an octave any octave will do. What follows a `#` at
 * the beginning of a line is a remark, which is kept and not played. Where a key is said degrees of it are chords too
 * (`ii V7 | I`). What cannot be read is a fault with its place; where it
 * stands for a chord, no chord is played for as long.
 */
import type { Told } from '$lib/faults';
import { told } from '$lib/pieceFaults';
import { chordMeant, readChordInKey } from '$lib/theory/readChord';
import { parseKey, type Key } from '$lib/theory/spelling';
import { keyOtherwise } from '$lib/theory/typedNames';
import { melodyNoteText, readMelodyNote, spreadMelody } from './melody';
import {
  BOUNDS,
  DEFAULT_METRE,
  addFault,
  quartersOf,
  type Metre,
  type Progression,
  type ProgressionFault,
  type ReadProgression,
  type Slot,
} from './progression';
import { partOfMetre } from './fractions';
import {
  LOST,
  MEASURES_A_LINE,
  SAME_PLACE,
  passesIn,
  type Measure,
  type Piece as PieceInTime,
} from './piece';
import { pieceOf, played, progressionOf } from './pieceOf';
import { TextPlaces } from './textPlace';

/** A piece of a line, and where it begins in the whole text. */
export interface Piece {
  readonly text: string;
  readonly at: number;
}

type Writable<T> = { -readonly [key in keyof T]: T[key] };
type SlotDraft = Writable<Slot>;
interface BarDraft {
  section?: string;
  part?: number;
  slots: SlotDraft[];
}

/** A line that says something of the piece: what, and what of it. */
export const HEAD = /^\s*(title|key|tempo|metre|meter|time|pickup)\s*[:=]\s*(.*)$/iu;
/** A line of melody notes: how it begins, and the notes. */
const MELODY = /^(\s*melody\s*[:=])(.*)$/iu;
const SECTION = /^\s*\[[^\]|]*\]\s*$/u;

/** A line behind which no chord can stand: it says something of the piece, or of the chords above it. */
export const holdsNoChord = (line: string): boolean =>
  HEAD.test(line) || MELODY.test(line) || SECTION.test(line);

/** A bar line, a section mark, or a word: a chord may hold spaces inside its round brackets. */
const TOKENS =
  /:?\|+\]?:?(?:\s*[x×]\s*\d+)?(?:\d(?:[,-]\d)*\.)?|\((?:[^()|]*)\)(?=\s|\||$)|\[[^\]|]*\]?|(?:\([^()|]*\)|[^\s|[(:]|:(?!\|)|\()+/gu;
/** What is which in the text of a piece. */
export const PIECE_SIGNS = { head: HEAD, melody: MELODY, tokens: TOKENS, holdsNoChord } as const;
export type PieceSigns = typeof PIECE_SIGNS;
const REPEAT = /[x×]\s*(\d+)$/u;

const REMARK = /^\s*#\s?(.*)$/u;

const TEMPO_LINE = /^\s*tempo\s*[:=]/gimu;

/** What makes a text more than bars in a row: endings, and signs that lead elsewhere. */
const FORMED = /\|\d(?:[,-]\d)*\.|\(\s*d\.?\s?[cs]\b/iu;

/** Signs in brackets, in small letters without dots. */
const SIGNS: Readonly<
  Record<string, Pick<Measure, 'segno' | 'coda' | 'toCoda' | 'fine' | 'jump'>>
> = {
  segno: { segno: true },
  coda: { coda: true },
  'to coda': { toCoda: true },
  fine: { fine: true },
  dc: { jump: { to: 'beginning', until: 'end' } },
  'dc al fine': { jump: { to: 'beginning', until: 'fine' } },
  'dc al coda': { jump: { to: 'beginning', until: 'coda' } },
  ds: { jump: { to: 'segno', until: 'end' } },
  'ds al fine': { jump: { to: 'segno', until: 'fine' } },
  'ds al coda': { jump: { to: 'segno', until: 'coda' } },
};

const signNamed = (text: string): (typeof SIGNS)[string] | undefined =>
  SIGNS[
    text
      .replace(/[().]/gu, '')
      .replace(/\s+/gu, ' ')
      .trim()
      .toLowerCase()
      .replace(/^d ([cs])/u, 'd$1')
  ];

/** A bar as it is written, with its signs. */
interface Written {
  readonly bar: BarDraft;
  readonly signs: Writable<Omit<Measure, 'chords' | 'notes'>>;
  /** A line of the text begins with it. */
  readonly begins: boolean;
}

/** Does a measure begin a line where the text says nothing of lines? */
function beginsByItself({ signs }: Written, before: number): boolean {
  const { section, metre, tempos, remarks } = signs;
  const isNew = [section, metre, tempos, remarks].some((each) => each !== undefined);
  return before === 0 || before === MEASURES_A_LINE || isNew;
}

/** Are the lines those in which a piece is written by itself? */
function hasUsualLines(written: readonly Written[]): boolean {
  let before = 0;
  return written.every((each) => {
    const begins = beginsByItself(each, before);
    before = begins ? 1 : before + 1;
    return begins === each.begins;
  });
}

/** What is played, as a text that tells any two apart. */
const keyOfBars = ({ bars }: Progression): string =>
  bars
    .map(({ section = '', part = 1, slots }) => {
      const parts = slots.reduce((sum, { share }) => sum + share, 0);
      const each = slots.map(({ chord, share, melody }) => {
        const symbol = chord === 'no chord' ? '' : chord.symbol;
        const note = melody === undefined ? '' : melodyNoteText(melody);
        return `${symbol} ${(share / parts).toFixed(6)} ${note}`;
      });
      return `${section}|${part.toFixed(6)}|${each.join(',')}`;
    })
    .join('\n');

/**
 * Reads a whole text.
 *
 * @param key that it is in where it does not say so itself: degrees (`ii`, `V7`, `4`) count from it
 */
export function readProgression(text: string, key?: Key): ReadProgression {
  return new TextReader(text, key).read();
}

class TextReader {
  readonly faults: ProgressionFault[] = [];
  readonly bars: BarDraft[] = [];
  readonly head: Writable<Omit<Progression, 'bars'>> = {};
  readonly text: string;
  readonly places: TextPlaces;
  /** The bar being filled; in `bars` already. */
  bar: BarDraft | undefined;
  section: string | undefined;
  /** Where the part to be repeated begins, as a number of bars. */
  repeatFrom = 0;
  slots = 0;
  full = false;
  /** Bars as they are written, each once, with their signs. */
  readonly written: Written[] = [];
  readonly formed: boolean;
  readonly changesTempo: boolean;
  /** Signs before the next bar. */
  signs: Written['signs'] = {};
  endings: readonly number[] | undefined;
  /** The next bar is the first on its line. */
  begins = true;
  /** The metre of the first bar alone, where that is a pickup. */
  pickup: Metre | undefined;
  /** From here on, where it is not the piece's. */
  now: Metre | undefined;

  /** What degrees count from. */
  readonly key: Key | undefined;

  constructor(text: string, key: Key | undefined) {
    this.text = text;
    this.key = key;
    this.places = new TextPlaces(text);
    this.changesTempo = (text.match(TEMPO_LINE)?.length ?? 0) > 1;
    this.formed = this.changesTempo || FORMED.test(text);
  }

  read(): ReadProgression {
    let chordsFrom: number | undefined;
    for (const { text, at } of this.lines()) {
      const remark = REMARK.exec(text)?.[1];
      if (remark !== undefined)
        this.signs.remarks = [...(this.signs.remarks ?? []), remark.trimEnd()];
      if (remark !== undefined || text.trim() === '') continue;
      const melody = MELODY.exec(text);
      const head = HEAD.exec(text);
      if (melody)
        this.melodyLine({ text: melody[2] ?? '', at: at + (melody[1] ?? '').length }, chordsFrom);
      else if (head) this.headLine(head, text, at);
      else {
        chordsFrom = this.bars.length;
        this.chordLine({ text, at });
      }
    }
    if (this.bars.length === 0 && this.faults.length === 0)
      this.fault({ text: '', at: 0 }, told('piece.noBars'));
    if (!this.formed) {
      const progression = { ...this.head, bars: this.bars };
      // a melody line goes by the chords as they are played: a repeat may have other notes the second time
      const piece = this.asPlayed(progression);
      return { progression, piece, faults: this.faults };
    }
    const piece = this.piece();
    const { order, lost, progression } = played(piece);
    for (const { measure, sign } of lost)
      addFault(this.faults, () => ({
        where: `measure ${String(measure + 1)}`,
        ...(sign === 'length'
          ? told('piece.tooManyChords', BOUNDS.slots)
          : told('piece.signLost', LOST[sign])),
      }));
    const faults = this.faults.map(({ slot, ...fault }) => {
      const bar = slot === undefined ? -1 : order.indexOf(slot.bar);
      return slot === undefined || bar < 0 ? fault : { ...fault, slot: { ...slot, bar } };
    });
    return { progression, piece, faults };
  }

  /** The piece as it is written; its repeats written out where its signs would play something else. */
  asPlayed(progression: Progression): PieceInTime {
    const piece = this.piece();
    const hasRepeats = piece.measures.some(({ times }) => times !== undefined);
    if (!hasRepeats || keyOfBars(progressionOf(piece)) === keyOfBars(progression)) return piece;
    const remarks = [
      ...piece.measures.flatMap((measure) => measure.remarks ?? []),
      ...(piece.remarks ?? []),
    ];
    return { ...pieceOf(progression), ...(remarks.length === 0 ? {} : { remarks }) };
  }

  /** Every bar once, with the signs that say in which order they are played. */
  piece(): PieceInTime {
    const { measures, ...about } = pieceOf({
      ...this.head,
      bars: this.written.map(({ bar }) => bar),
    });
    const whole = quartersOf(about.metre ?? DEFAULT_METRE);
    const isUsual = hasUsualLines(this.written);
    const { remarks } = this.signs;
    let now = whole;
    return {
      ...about,
      ...(remarks === undefined ? {} : { remarks }),
      measures: measures.map(({ lasts = whole, ...measure }, at): Measure => {
        const { signs, begins } = this.written[at] as Written;
        if (signs.metre !== undefined) now = quartersOf(signs.metre);
        const isWhole = Math.abs(lasts - now) < SAME_PLACE;
        const line = begins && !isUsual ? { newLine: true as const } : {};
        return { ...measure, ...(isWhole ? {} : { lasts }), ...signs, ...line };
      }),
    };
  }

  *lines(): Generator<Piece> {
    for (const at of this.places.lineStarts) {
      const end = this.text.indexOf('\n', at);
      const text = this.text.slice(at, end < 0 ? undefined : end).replace(/\r$/, '');
      yield { text, at };
    }
  }

  fault({ text, at }: Piece, fault: Told, inBar = false, meant?: readonly string[]): void {
    const slot = { bar: this.bars.length - 1, slot: (this.bar?.slots.length ?? 1) - 1 };
    const mark = { at, length: text.length };
    addFault(this.faults, () => ({
      where: this.places.at(at),
      ...fault,
      mark,
      ...(inBar ? { slot } : {}),
      ...(meant === undefined ? {} : { meant }),
    }));
  }

  headLine([, name = '', rest = '']: RegExpExecArray, line: string, at: number): void {
    const value = rest.trimEnd();
    const piece = { text: value, at: at + line.lastIndexOf(value) };
    switch (name.toLowerCase()) {
      case 'title':
        if (value !== '') this.head.title = value;
        return;
      case 'key': {
        const key = parseKey(value);
        if (key !== undefined) this.head.key = key;
        else {
          const other = keyOtherwise(value);
          const meant = other === undefined ? undefined : [other.letters];
          this.fault(piece, told('head.key', value), false, meant);
        }
        return;
      }
      case 'tempo': {
        const tempo = Number(/^(\d+(?:\.\d+)?)(?:\s*bpm)?$/iu.exec(value)?.[1] ?? NaN);
        const [least, most] = BOUNDS.tempo;
        const isIn = tempo >= least && tempo <= most;
        // below chords it is a change from there on
        if (isIn && this.changesTempo && this.bars.length > 0)
          this.signs.tempos = [{ at: 0, tempo }];
        else if (isIn) this.head.tempo = tempo;
        else this.fault(piece, told('head.tempo', value, least, most));
        return;
      }
      default: {
        const match = /^(\d{1,2})\s*\/\s*(\d{1,2})$/u.exec(value);
        const [beats, unit] = [Number(match?.[1] ?? 0), Number(match?.[2] ?? 0)];
        const units: readonly number[] = BOUNDS.units;
        if (beats < BOUNDS.beats[0] || beats > BOUNDS.beats[1] || !units.includes(unit))
          this.fault(piece, told('head.metre', value));
        else this.metreLine(name.toLowerCase() === 'pickup', { beats, unit });
      }
    }
  }

  /** The first says the piece's metre, a later one below chords what holds from there. */
  metreLine(isPickup: boolean, metre: Metre): void {
    if (isPickup) this.pickup = metre;
    else if (this.bars.length === 0) this.head.metre = metre;
    else {
      this.now = metre;
      this.signs.metre = metre;
    }
  }

  /** How much of a bar of the piece's metre a bar lasts that begins here. */
  part(): number {
    const own = (this.bars.length === 0 ? this.pickup : undefined) ?? this.now;
    return own === undefined ? 1 : partOfMetre(this.head.metre ?? DEFAULT_METRE, own);
  }

  chordLine(line: Piece): void {
    this.bar = undefined;
    this.begins = true;
    let lastBarLine: Piece | undefined;
    for (const match of line.text.matchAll(TOKENS)) {
      if (this.full) return;
      const piece = { text: match[0], at: line.at + match.index };
      if (/^:?\|/u.test(piece.text)) {
        if (
          lastBarLine !== undefined &&
          this.bar === undefined &&
          !/:/u.test(piece.text + lastBarLine.text)
        )
          this.fault(piece, told('bar.empty'));
        this.barLine(piece);
        lastBarLine = piece;
      } else if (piece.text.startsWith('[')) this.sectionMark(piece);
      else this.word(piece);
    }
    this.endBar();
  }

  barLine(piece: Piece): void {
    this.endBar();
    const last = this.written.at(-1);
    const times = Number(REPEAT.exec(piece.text)?.[1] ?? (piece.text.startsWith(':') ? 2 : 1));
    const endings = /(\d(?:[,-]\d)*)\.$/u.exec(piece.text)?.[1];
    if (piece.text.startsWith(':') && last !== undefined) last.signs.times = Math.max(2, times);
    // endings are over where a double bar, a repeat or another ending is
    if (endings !== undefined) this.endings = passesIn(endings);
    else if (/:|\|\|/u.test(piece.text)) this.endings = undefined;
    if (/\|:/u.test(piece.text)) this.signs.repeats = true;
    if (this.formed) {
      if (!piece.text.startsWith(':') && times !== 1)
        this.fault(piece, told('bar.repeatedWithoutRepeat', piece.text));
      return;
    }
    if (piece.text.startsWith(':')) {
      const again = this.bars.slice(this.repeatFrom);
      const count = again.reduce((sum, { slots }) => sum + slots.length, 0);
      for (let time = 1; time < times && !this.full && count > 0; time++) {
        // a section is named where it begins, not each time it is played
        for (const { slots, part } of again)
          this.bars.push({
            ...(part === undefined ? {} : { part }),
            slots: slots.map((slot) => ({ ...slot })),
          });
        this.count(count, piece);
      }
      this.repeatFrom = this.bars.length;
    } else if (times !== 1) this.fault(piece, told('bar.repeatedWithoutRepeat', piece.text));
    if (/\|:/u.test(piece.text)) this.repeatFrom = this.bars.length;
  }

  sectionMark(piece: Piece): void {
    const name = /^\[\s*(.*?)\s*\]$/u.exec(piece.text)?.[1];
    if (name === undefined || name === '') this.fault(piece, told('section.unnamed', piece.text));
    else {
      this.endBar();
      this.section = name;
    }
  }

  word(piece: Piece): void {
    const sign = signNamed(piece.text);
    if (piece.text.startsWith('(') && sign !== undefined) {
      this.sign(sign);
      return;
    }
    if (piece.text === '.' || piece.text === '/') {
      const last = this.bar?.slots.at(-1);
      if (last) last.share++;
      else this.fault(piece, told('chord.nothingToHold', piece.text));
      return;
    }
    if (piece.text === '%') {
      this.repeatBefore(piece);
      return;
    }
    const colon = piece.text.indexOf(':');
    const symbol = colon < 0 ? piece.text : piece.text.slice(0, colon);
    const read = readChordInKey(symbol, this.head.key ?? this.key);
    const slot: SlotDraft = { chord: read.ok ? read.value : 'no chord', share: 1 };
    this.add(slot, piece);
    if (!read.ok) {
      const { at, length, allowed, other } = read.error;
      if (other === undefined) {
        const mark = { text: symbol.slice(at, at + Math.max(1, length)), at: piece.at + at };
        this.fault(mark, told('chord.unreadable', symbol, allowed), true);
      } else {
        const whole = { text: symbol, at: piece.at };
        const meant = chordMeant(other);
        this.fault(whole, told('chord.otherwise', symbol, meant), true, other.readings);
      }
    }
    if (colon >= 0) {
      const note = { text: piece.text.slice(colon + 1), at: piece.at + colon + 1 };
      const melody = readMelodyNote(note.text);
      if (melody === undefined) this.fault(note, told('melody.atChord', note.text));
      else if (melody !== 'none') slot.melody = melody;
    }
  }

  /** A segno and a coda are where a bar begins; other signs are of the bar that they stand in or behind. */
  sign(sign: (typeof SIGNS)[string]): void {
    const last = this.written.at(-1);
    const begins = sign.segno === true || sign.coda === true;
    Object.assign(
      (begins && this.bar === undefined) || last === undefined ? this.signs : last.signs,
      sign,
    );
  }

  repeatBefore(piece: Piece): void {
    const last = this.bar?.slots.at(-1);
    if (last) {
      this.add({ chord: last.chord, share: 1 }, piece);
      return;
    }
    const before = this.bars.at(-1);
    if (before === undefined) this.fault(piece, told('bar.nothingBefore'));
    else for (const slot of before.slots) this.add({ ...slot }, piece);
  }

  add(slot: SlotDraft, piece: Piece): void {
    if (this.full) return;
    if (this.bar === undefined) {
      this.bar = { slots: [] };
      if (this.section !== undefined) this.bar.section = this.section;
      const part = this.part();
      if (part !== 1) this.bar.part = part;
      this.section = undefined;
      this.bars.push(this.bar);
      const { section } = this.bar;
      this.written.push({
        bar: this.bar,
        signs: {
          ...this.signs,
          ...(section === undefined ? {} : { section }),
          ...(this.endings === undefined ? {} : { endings: this.endings }),
        },
        begins: this.begins,
      });
      this.begins = false;
      this.signs = {};
    }
    this.bar.slots.push(slot);
    this.count(1, piece);
  }

  /** Counts slots; a piece that is too long is cut at a bar. */
  count(more: number, piece: Piece): void {
    this.slots += more;
    if (this.slots <= BOUNDS.slots) return;
    this.full = true;
    while (this.slots > BOUNDS.slots) {
      const bar = this.bars.pop();
      if (bar === this.written.at(-1)?.bar) this.written.pop();
      this.slots -= bar?.slots.length ?? this.slots;
    }
    this.bar = undefined;
    this.fault(piece, told('piece.tooManyChords', BOUNDS.slots));
  }

  endBar(): void {
    this.bar = undefined;
  }

  melodyLine(line: Piece, from: number | undefined): void {
    const below = from === undefined ? [] : this.bars.slice(from);
    if (below.length === 0) {
      this.fault(line, told('melody.withoutChords'));
      return;
    }
    for (const { piece, ...fault } of spreadMelody(line, below)) this.fault(piece, fault);
  }
}
