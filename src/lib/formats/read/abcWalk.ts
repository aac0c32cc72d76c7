/** The first voice of a tune as `abcjs` parses it, walked through bar by bar. */
import type { KeySignature, Meter, TempoProperties, VoiceItem, VoiceItemBar } from 'abcjs';
import { LETTERS, noteName, pitchOf, type Pitch } from '$lib/theory/pitch';
import { chordFaultText } from '$lib/theory/readChord';
import { keyText, type Key } from '$lib/theory/spelling';
import { addFault, type Metre, type ProgressionFault } from '$lib/arrange/progression';
import { passesIn } from '$lib/arrange/piece';
import { TextPlaces } from '$lib/arrange/textPlace';
import { told } from '$lib/pieceFaults';
import { TICKS } from '../ticks';
import {
  ALTERS,
  DOUBLE,
  JUMPS,
  NO_CHORD,
  chordNamed,
  keyIn,
  quartersAMinute,
  slurs,
  syllables,
  type Decorated,
  type Note,
} from './abcItems';
import { Beyond } from './beyond';
import type { ScoreBar, ScoreChord, ScoreNote } from './score';

/** abcjs counts durations in whole notes. */
const WHOLE = 4 * TICKS;

/** More than any piece has; what comes after them is left out. */
const MOST_BARS = 20_000;

type Draft<T> = { -readonly [key in keyof T]: T[key] };
interface BarDraft extends Draft<Omit<ScoreBar, 'chords' | 'notes' | 'tempos'>> {
  readonly chords: ScoreChord[];
  readonly notes: Draft<ScoreNote>[];
  tempos?: { at: number; tempo: number }[];
}

/** Collects bars. */
export class Walk {
  readonly bars: BarDraft[] = [];
  readonly faults: ProgressionFault[] = [];
  readonly beyond = new Beyond();
  readonly #text: string;
  readonly #home: Key | undefined;
  #key: Key | undefined;
  readonly #places: TextPlaces;
  #bar: BarDraft = { length: 0, chords: [], notes: [] };
  #signature: ReadonlyMap<string, number> = new Map();
  /** Accidentals of the bar, by position on the staff. */
  #accidentals = new Map<number, number>();
  #tuplet = 1;
  #passes: number[] | undefined;
  /** A repeat has been opened and not closed yet. */
  #repeating = false;
  /** Bars behind a double bar line, by their places: what is repeated may begin with one of them. */
  readonly #afterDouble = new Set<number>();
  #metre: Metre | undefined;
  /** A sign for the coda has been met. */
  #leaves = false;
  /** The next bar begins with these. */
  #segno = false;
  #coda = false;
  #slurs = 0;

  /** @param home the key from which degrees count */
  constructor(text: string, home?: Key) {
    this.#text = text;
    this.#home = home;
    this.#places = new TextPlaces(text);
  }

  /** The signature that counts from here on, and the key that a bar begins with where it is another than before. */
  key(signature: KeySignature): void {
    const { accidentals = [] } = signature;
    const now = keyIn(signature);
    const before = this.#key;
    this.#key = now ?? before;
    // within a bar it has no place
    if (
      now !== undefined &&
      before !== undefined &&
      keyText(now) !== keyText(before) &&
      this.#bar.length === 0
    )
      this.#bar.key = now;
    this.#signature = new Map(
      accidentals.map(({ note, acc }) => [note.toUpperCase(), ALTERS[acc] ?? 0]),
    );
  }

  item(item: VoiceItem): void {
    if (item.el_type === 'note') this.#note(item);
    else if (item.el_type === 'bar') this.#barLine(item);
    else if (item.el_type === 'key') this.key(item);
    else if (item.el_type === 'part') this.#bar.section = item.title;
    else if (item.el_type === 'meter') this.metre(item);
    else if (item.el_type === 'tempo') this.#tempoMark(item);
  }

  /** From the next bar on, where it is another than the one before. */
  metre({ type, value }: Pick<Meter, 'type' | 'value'>): void {
    const [first] = value ?? [];
    const [beats, unit] = [Number(first?.num), Number(first?.den ?? 4)];
    const metre =
      type === 'common_time'
        ? { beats: 4, unit: 4 }
        : type === 'cut_time'
          ? { beats: 2, unit: 2 }
          : { beats, unit };
    if (!(metre.beats > 0 && metre.unit > 0)) return;
    const before = this.#metre;
    if (before !== undefined && (before.beats !== metre.beats || before.unit !== metre.unit))
      this.#bar.metre = metre;
    this.#metre = metre;
  }

  #tempoMark(tempo: TempoProperties): void {
    const now = quartersAMinute(tempo);
    if (now === undefined) return;
    const { length: at } = this.#bar;
    // before the first note it is the head's
    if (this.bars.length > 0 || at > 0) (this.#bar.tempos ??= []).push({ at, tempo: now });
  }

  /** Signs on a note are those of its bar; on a bar line, of the bar that ends, but for a segno. */
  #signs({ decoration = [] }: Decorated, onBarLine: boolean): void {
    for (const name of decoration.map((each) => each.toLowerCase())) {
      const jump = JUMPS[name];
      if (jump !== undefined) this.#bar.jump = jump;
      else if (name === 'fine') this.#bar.fine = true;
      else if (name === 'segno' && onBarLine) this.#segno = true;
      else if (name === 'segno') this.#bar.segno = true;
      // the sign stands twice: where the way to the coda leaves, and where the coda begins
      else if (name === 'dacoda' || (name === 'coda' && !this.#leaves)) {
        this.#leaves = true;
        this.#bar.toCoda = true;
      } else if (name === 'coda' && onBarLine) this.#coda = true;
      else if (name === 'coda') this.#bar.coda = true;
    }
  }

  end(): void {
    this.#close();
    for (const from of this.#afterDouble)
      if (!this.#isClosed(from)) delete this.bars[from]?.repeatFrom;
  }

  /** What begins with a bar is repeated, before another repeat begins. */
  #isClosed(from: number): boolean {
    const next = this.bars.findIndex(({ repeatFrom }, at) => at > from && repeatFrom === true);
    const own = this.bars.slice(from, next < 0 ? undefined : next);
    return own.some(({ times = 1 }) => times > 1);
  }

  /** The measure that is walked through, from 1. */
  get #measure(): string {
    return String(this.bars.length + 1);
  }

  #pitch(position: number, accidental: string | undefined): Pitch {
    const letter = LETTERS[((position % 7) + 7) % 7] ?? 'C';
    if (accidental !== undefined) {
      if (/quarter/u.test(accidental)) this.beyond.add('quarterTone', this.#measure);
      this.#accidentals.set(position, ALTERS[accidental] ?? 0);
    }
    const alter = this.#accidentals.get(position) ?? this.#signature.get(letter) ?? 0;
    // position 0 is middle C
    return pitchOf(noteName(letter, alter), 4 + Math.floor(position / 7));
  }

  #note(note: Note): void {
    if (note.startTriplet !== undefined) this.#tuplet = note.tripletMultiplier ?? 1;
    const at = this.#bar.length;
    for (const { name, position } of note.chord ?? []) {
      // `"^up"` and the like are words, not chords; but for the words that say there is none
      if (position !== 'default' && !NO_CHORD.test(name)) continue;
      const chord = chordNamed(name, this.#home);
      this.#bar.chords.push({ at, chord: chord.ok ? chord.value : 'no chord' });
      if (chord.ok) continue;
      const from = this.#text.indexOf('"', note.startChar) + 1;
      const length = Math.max(1, this.#text.indexOf('"', from) - from);
      addFault(this.faults, () => ({
        where: this.#places.at(from),
        ...told('chord.unreadable', name, chordFaultText(chord.error)),
        mark: { at: from, length },
      }));
    }
    this.#signs(note, false);
    const { rest } = note;
    if (rest?.type === 'multimeasure' || rest?.type === 'invisible-multimeasure') {
      this.#restBars(rest.text ?? 1);
      return;
    }
    if (rest?.type !== 'spacer') {
      const length = Math.round(note.duration * this.#tuplet * WHOLE);
      for (const { pitch, accidental } of note.gracenotes ?? [])
        this.#bar.notes.push({ at, length: 0, pitch: this.#pitch(pitch, accidental) });
      const lyrics = syllables(note);
      this.#slurs += slurs(note, 'startSlur') - slurs(note, 'endSlur');
      if ((note.pitches?.length ?? 0) > 1) this.beyond.add('lower', this.#measure);
      for (const { pitch, accidental, ...more } of note.pitches ?? [])
        this.#bar.notes.push({
          at,
          length,
          pitch: this.#pitch(pitch, accidental),
          tied: 'startTie' in more,
          slurred: this.#slurs > 0,
          ...(lyrics === undefined ? {} : { lyrics }),
        });
      this.#bar.length += length;
    }
    if (note.endTriplet) this.#tuplet = 1;
  }

  #restBars(count: number): void {
    const length = this.bars.at(-1)?.length ?? WHOLE;
    for (let bar = 0; bar < Math.min(count, MOST_BARS); bar++) {
      this.#bar.length = length;
      if (bar < count - 1) this.#close();
    }
  }

  #barLine(line: VoiceItemBar & Decorated): void {
    const { type, startEnding, endEnding } = line;
    this.#signs(line, true);
    // a line in the midst of a bar, drawn or not, ends nothing
    if (type !== 'bar_invisible') {
      const opens = type === 'bar_left_repeat' || type === 'bar_dbl_repeat';
      if (type === 'bar_right_repeat' || type === 'bar_dbl_repeat') this.#repeat();
      this.#close();
      if (endEnding) this.#passes = undefined;
      // ABC 2.1, 4.8: without a sign of its own, a repeat goes back to the latest double bar
      const isDouble = DOUBLE.has(type) && !this.#repeating;
      if (opens || isDouble) this.#bar.repeatFrom = true;
      if (opens) {
        this.#repeating = true;
        this.#afterDouble.delete(this.bars.length);
      } else if (isDouble) this.#afterDouble.add(this.bars.length);
    }
    const passes = passesIn(startEnding ?? '');
    if (passes.length > 0) this.#passes = passes;
  }

  /** What came last is played again. */
  #repeat(): void {
    this.#repeating = false;
    const empty = this.#bar.length === 0;
    // between the signs of a repeat is nothing
    if (empty && this.#bar.repeatFrom) return;
    const target = empty ? this.bars.at(-1) : this.#bar;
    if (target !== undefined) target.times = 2;
  }

  #close(): void {
    this.#accidentals = new Map();
    const { section, repeatFrom, metre, tempos, key } = this.#bar;
    const isEmpty = this.#bar.length === 0;
    if (!isEmpty) {
      if (this.#passes !== undefined) this.#bar.passes = this.#passes;
      if (this.bars.length < MOST_BARS) this.bars.push(this.#bar);
    } else if (this.bars.length > 0) this.#late(this.#bar);
    this.#bar = {
      length: 0,
      chords: [],
      notes: [],
      ...(isEmpty && section !== undefined ? { section } : {}),
      ...(isEmpty && repeatFrom !== undefined ? { repeatFrom } : {}),
      ...(isEmpty && metre !== undefined ? { metre } : {}),
      ...(isEmpty && key !== undefined ? { key } : {}),
      ...(isEmpty && tempos !== undefined ? { tempos } : {}),
      ...(this.#segno ? { segno: true } : {}),
      ...(this.#coda ? { coda: true } : {}),
    };
    this.#segno = false;
    this.#coda = false;
  }

  /** Signs behind the last bar line are those of the bar before it. */
  #late({ jump, fine, toCoda }: BarDraft): void {
    const last = this.bars.at(-1);
    if (last === undefined) return;
    if (jump !== undefined) last.jump = jump;
    if (fine === true) last.fine = true;
    if (toCoda === true) last.toCoda = true;
  }
}
