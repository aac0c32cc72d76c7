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
import type { Key } from '$lib/theory/spelling';
import { readMelodyNote, spreadMelody } from './melody';
import { BOUNDS, addFault, type ProgressionFault, type ReadProgression } from './progression';
import { LOST, passesIn, type Piece as PieceInTime } from './piece';
import { played } from './pieceOf';
import { TextHead } from './textHead';
import { TextPlaces } from './textPlace';
import {
  FORMED,
  HEAD,
  MELODY,
  REMARK,
  REPEAT,
  TOKENS,
  signNamed,
  type FormSign,
} from './textSigns';
import { asPlayed, pieceWritten, type BarDraft, type SlotDraft, type Written } from './writtenBars';

/** A piece of a line, and where it begins in the whole text. */
export interface Piece {
  readonly text: string;
  readonly at: number;
}

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
  readonly about: TextHead;
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
  /** Signs before the next bar. */
  signs: Written['signs'] = {};
  endings: readonly number[] | undefined;
  /** The next bar is the first on its line. */
  begins = true;
  /** What degrees count from. */
  readonly key: Key | undefined;

  constructor(text: string, key: Key | undefined) {
    this.text = text;
    this.key = key;
    this.places = new TextPlaces(text);
    this.about = new TextHead(text);
    this.formed = this.about.changesTempo || FORMED.test(text);
  }

  /** Every bar once, with the signs that say in which order they are played. */
  piece(): PieceInTime {
    return pieceWritten(this.about.said, this.written, this.signs.remarks);
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
      const progression = { ...this.about.said, bars: this.bars };
      // a melody line goes by the chords as they are played: a repeat may have other notes the second time
      const piece = asPlayed(this.piece(), progression);
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
    const { fault, meant, signs } = this.about.say(name.toLowerCase(), value, this.bars.length > 0);
    if (signs !== undefined) Object.assign(this.signs, signs);
    if (fault !== undefined)
      this.fault({ text: value, at: at + line.lastIndexOf(value) }, fault, false, meant);
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
    const read = readChordInKey(symbol, this.about.said.key ?? this.key);
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
  sign(sign: FormSign): void {
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
      const part = this.about.part(this.bars.length === 0);
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
