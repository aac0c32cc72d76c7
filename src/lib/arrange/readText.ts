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
import { LOST, type Piece as PieceInTime } from './piece';
import { played } from './pieceOf';
import { TextBars } from './textBars';
import { TextHead } from './textHead';
import { TextPlaces } from './textPlace';
import { FORMED, HEAD, MELODY, REMARK, TOKENS, signNamed } from './textSigns';
import { asPlayed, pieceWritten, type SlotDraft } from './writtenBars';

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
  readonly about: TextHead;
  readonly text: string;
  readonly places: TextPlaces;
  readonly formed: boolean;
  readonly gathered: TextBars;
  /** What degrees count from. */
  readonly key: Key | undefined;

  constructor(text: string, key: Key | undefined) {
    this.text = text;
    this.key = key;
    this.places = new TextPlaces(text);
    this.about = new TextHead(text);
    this.formed = this.about.changesTempo || FORMED.test(text);
    this.gathered = new TextBars(this.formed, (isFirst) => this.about.part(isFirst));
  }

  /** Every bar once, with the signs that say in which order they are played. */
  piece(): PieceInTime {
    const { written, signs } = this.gathered;
    return pieceWritten(this.about.said, written, signs.remarks);
  }

  read(): ReadProgression {
    const { gathered } = this;
    const { bars } = gathered;
    let chordsFrom: number | undefined;
    for (const { text, at } of this.lines()) {
      const remark = REMARK.exec(text)?.[1];
      if (remark !== undefined)
        gathered.signs.remarks = [...(gathered.signs.remarks ?? []), remark.trimEnd()];
      if (remark !== undefined || text.trim() === '') continue;
      const melody = MELODY.exec(text);
      const head = HEAD.exec(text);
      if (melody)
        this.melodyLine({ text: melody[2] ?? '', at: at + (melody[1] ?? '').length }, chordsFrom);
      else if (head) this.headLine(head, text, at);
      else {
        chordsFrom = bars.length;
        this.chordLine({ text, at });
      }
    }
    if (bars.length === 0 && this.faults.length === 0)
      this.fault({ text: '', at: 0 }, told('piece.noBars'));
    if (!this.formed) {
      const progression = { ...this.about.said, bars };
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
    const slot = this.gathered.place;
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
    const { fault, meant, signs } = this.about.say(
      name.toLowerCase(),
      value,
      this.gathered.bars.length > 0,
    );
    if (signs !== undefined) Object.assign(this.gathered.signs, signs);
    if (fault !== undefined)
      this.fault({ text: value, at: at + line.lastIndexOf(value) }, fault, false, meant);
  }

  chordLine(line: Piece): void {
    const { gathered } = this;
    gathered.beginLine();
    let lastBarLine: Piece | undefined;
    for (const match of line.text.matchAll(TOKENS)) {
      if (gathered.full) return;
      const piece = { text: match[0], at: line.at + match.index };
      if (/^:?\|/u.test(piece.text)) {
        if (
          lastBarLine !== undefined &&
          gathered.bar === undefined &&
          !/:/u.test(piece.text + lastBarLine.text)
        )
          this.fault(piece, told('bar.empty'));
        this.tell(piece, gathered.barLine(piece.text));
        lastBarLine = piece;
      } else if (piece.text.startsWith('[')) this.sectionMark(piece);
      else this.word(piece);
    }
    gathered.endBar();
  }

  sectionMark(piece: Piece): void {
    const name = /^\[\s*(.*?)\s*\]$/u.exec(piece.text)?.[1];
    if (name === undefined || name === '') this.fault(piece, told('section.unnamed', piece.text));
    else this.gathered.beginSection(name);
  }

  word(piece: Piece): void {
    const sign = signNamed(piece.text);
    if (piece.text.startsWith('(') && sign !== undefined) {
      this.gathered.sign(sign);
      return;
    }
    if (piece.text === '.' || piece.text === '/') {
      const last = this.gathered.bar?.slots.at(-1);
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

  repeatBefore(piece: Piece): void {
    const last = this.gathered.bar?.slots.at(-1);
    if (last) {
      this.add({ chord: last.chord, share: 1 }, piece);
      return;
    }
    const before = this.gathered.bars.at(-1);
    if (before === undefined) this.fault(piece, told('bar.nothingBefore'));
    else for (const slot of before.slots) this.add({ ...slot }, piece);
  }

  add(slot: SlotDraft, piece: Piece): void {
    this.tell(piece, this.gathered.add(slot));
  }

  /** Tells what is wrong, if anything is. */
  tell(piece: Piece, fault: Told | undefined): void {
    if (fault !== undefined) this.fault(piece, fault);
  }

  melodyLine(line: Piece, from: number | undefined): void {
    const below = from === undefined ? [] : this.gathered.bars.slice(from);
    if (below.length === 0) {
      this.fault(line, told('melody.withoutChords'));
      return;
    }
    for (const { piece, ...fault } of spreadMelody(line, below)) this.fault(piece, fault);
  }
}
