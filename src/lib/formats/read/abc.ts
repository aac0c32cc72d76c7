/**
 * Chords and tune of a piece in ABC notation (standard 2.1; chord symbols are its section 4.18). The
 * notation itself is read by `abcjs`; here its notes get their pitches and its chords their places.
 * That library is large: import this module on demand only, as `progressionFiles` does.
 */
import abcjs, {
  type KeySignature,
  type TuneObject,
  type VoiceItem,
  type VoiceItemBar,
  type VoiceItemNote,
} from 'abcjs';
import type { DocumentFault } from '$lib/faults';
import { fault, told } from '$lib/pieceFaults';
import { LETTERS, noteName, pitchOf, type Pitch } from '$lib/theory/pitch';
import { chordFaultText, readChord } from '$lib/theory/readChord';
import { parseKey } from '$lib/theory/spelling';
import { addFault, type ProgressionFault } from '$lib/arrange/progression';
import { TextPlaces } from '$lib/arrange/textPlace';
import { ok, refuse, type Result } from '$lib/result';
import {
  TICKS,
  headOf,
  progressionOf,
  type ReadPiece,
  type ScoreChord,
  type ScoreNote,
} from './score';

/** abcjs counts durations in whole notes. */
const WHOLE = 4 * TICKS;

const ALTERS: Readonly<Record<string, number>> = {
  dblflat: -2,
  flat: -1,
  natural: 0,
  sharp: 1,
  dblsharp: 2,
};

/** A tune in more characters is no tune, and costs the reader of the notation a hundred times its size. */
const MOST_CHARACTERS = 100_000;
/** More than any piece has; what comes after them is left out. */
const MOST_BARS = 20_000;

/** Double bars, by the names that abcjs has for them. */
const DOUBLE: ReadonlySet<string> = new Set(['bar_thin_thin', 'bar_thin_thick', 'bar_thick_thin']);

/** A chord symbol, or the first of `"G(Em)"`, which leaves a choice. */
const chordNamed = (name: string): ReturnType<typeof readChord> =>
  readChord(/^([^()]+)\([A-G][^()]*\)$/u.exec(name.trim())?.[1] ?? name.trim());

const NO_CHORD = /^\s*n\.?\s?c\.?\s*$/iu;

type Note = VoiceItemNote & {
  readonly chord?: readonly { readonly name: string; readonly position?: string }[];
  readonly startTriplet?: number;
  readonly endTriplet?: boolean;
  readonly tripletMultiplier?: number;
};

interface BarDraft {
  length: number;
  chords: ScoreChord[];
  notes: ScoreNote[];
  section?: string;
  repeatFrom?: boolean;
  times?: number;
  passes?: number[];
}

/** The passes that an ending such as `1,3` or `1-3` is for. */
function passesIn(text: string): number[] {
  return text.split(',').flatMap((part) => {
    const [from = NaN, to = from] = part.split('-').map(Number);
    if (!Number.isInteger(from) || !Number.isInteger(to)) return [];
    const count = Math.max(0, Math.min(16, to - from + 1));
    return Array.from({ length: count }, (_, i) => from + i).filter((pass) => pass > 0);
  });
}

/** Walks through the first voice and collects bars. */
class Walk {
  readonly bars: BarDraft[] = [];
  readonly faults: ProgressionFault[] = [];
  readonly #text: string;
  readonly #places: TextPlaces;
  #bar: BarDraft = { length: 0, chords: [], notes: [] };
  #signature: ReadonlyMap<string, number> = new Map();
  /** Accidentals of the bar, by position on the staff. */
  #accidentals = new Map<number, number>();
  #tuplet = 1;
  #passes: number[] | undefined;
  /** A repeat has been opened and not closed yet. */
  #repeating = false;

  constructor(text: string) {
    this.#text = text;
    this.#places = new TextPlaces(text);
  }

  key({ accidentals = [] }: KeySignature): void {
    this.#signature = new Map(
      accidentals.map(({ note, acc }) => [note.toUpperCase(), ALTERS[acc] ?? 0]),
    );
  }

  item(item: VoiceItem): void {
    if (item.el_type === 'note') this.#note(item);
    else if (item.el_type === 'bar') this.#barLine(item);
    else if (item.el_type === 'key') this.key(item);
    else if (item.el_type === 'part') this.#bar.section = item.title;
  }

  end(): void {
    this.#close();
  }

  #pitch(position: number, accidental: string | undefined): Pitch {
    const letter = LETTERS[((position % 7) + 7) % 7] ?? 'C';
    if (accidental !== undefined) this.#accidentals.set(position, ALTERS[accidental] ?? 0);
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
      const chord = chordNamed(name);
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
    const { rest } = note;
    if (rest?.type === 'multimeasure' || rest?.type === 'invisible-multimeasure') {
      this.#restBars(rest.text ?? 1);
      return;
    }
    if (rest?.type !== 'spacer') {
      const length = Math.round(note.duration * this.#tuplet * WHOLE);
      for (const { pitch, accidental } of note.pitches ?? [])
        this.#bar.notes.push({ at, length, pitch: this.#pitch(pitch, accidental) });
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

  #barLine({ type, startEnding, endEnding }: VoiceItemBar): void {
    // a line in the midst of a bar, drawn or not, ends nothing
    if (type !== 'bar_invisible') {
      const opens = type === 'bar_left_repeat' || type === 'bar_dbl_repeat';
      if (type === 'bar_right_repeat' || type === 'bar_dbl_repeat') this.#repeat();
      this.#close();
      if (endEnding) this.#passes = undefined;
      // ABC 2.1, 4.8: without a sign of its own, a repeat goes back to the latest double bar
      if (opens || (DOUBLE.has(type) && !this.#repeating)) this.#bar.repeatFrom = true;
      if (opens) this.#repeating = true;
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
    const { section, repeatFrom } = this.#bar;
    const isEmpty = this.#bar.length === 0;
    if (!isEmpty) {
      if (this.#passes !== undefined) this.#bar.passes = this.#passes;
      if (this.bars.length < MOST_BARS) this.bars.push(this.#bar);
    }
    this.#bar = {
      length: 0,
      chords: [],
      notes: [],
      ...(isEmpty && section !== undefined ? { section } : {}),
      ...(isEmpty && repeatFrom !== undefined ? { repeatFrom } : {}),
    };
  }
}

function keyIn(tune: TuneObject): ReturnType<typeof headOf>['key'] {
  const { root, acc, mode } = tune.getKeySignature();
  // the church modes have no key of ours; one is found from the chords
  if (!/^[A-G]$/u.test(root) || (mode !== '' && mode !== 'm')) return undefined;
  return parseKey(`${root}${acc}${mode}`);
}

function tempoIn(tune: TuneObject): number | undefined {
  const { bpm, duration } = tune.metaText.tempo ?? {};
  if (bpm === undefined) return undefined;
  return bpm * 4 * (duration?.reduce((sum, each) => sum + each, 0) ?? 1 / 4);
}

/** The first tune of a file, with what stands before it; places stay what they are. */
function firstTune(text: string): { text: string; length: number } {
  const from = /^\s*X:/u.test(text) ? text.indexOf('X:') : text.indexOf('\nX:') + 1;
  const next = text.indexOf('\nX:', from + 1);
  const tune = text.slice(0, next < 0 ? undefined : next);
  // a blank line ends a tune (ABC 2.1, 2.2.1)
  const blank = /\n[ \t]*\r?\n/u.exec(tune.slice(from).trimStart())?.index;
  return { text: tune, length: blank ?? tune.length - from };
}

/** Reads the first tune of a file, its first voice where it has several. */
export function readAbc(text: string): Result<ReadPiece, DocumentFault> {
  const { text: first, length } = firstTune(text);
  if (length > MOST_CHARACTERS)
    return refuse(fault('text.tooLong', 'the tune', length, MOST_CHARACTERS));
  return ok(readTune(first));
}

function readTune(text: string): ReadPiece {
  const [tune] = abcjs.parseOnly(text) as readonly (TuneObject | undefined)[];
  const walk = new Walk(text);
  const lines = tune?.lines ?? [];
  for (const { staff } of lines) {
    const first = staff?.[0];
    if (first?.key) walk.key(first.key);
    for (const item of first?.voices?.[0] ?? []) walk.item(item);
  }
  walk.end();
  if (tune === undefined || walk.bars.length === 0)
    return progressionOf({}, [], [{ where: 'the file', ...told('piece.noTune') }]);
  const { num, den } = tune.getMeterFraction();
  const title: unknown = tune.metaText.title;
  const head = headOf({
    title: typeof title === 'string' ? title : undefined,
    key: keyIn(tune),
    tempo: tempoIn(tune),
    metre: { beats: Number(num), unit: Number(den ?? 4) },
  });
  return progressionOf(head, walk.bars, walk.faults);
}
