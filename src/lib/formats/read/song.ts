/**
 * A song as it is read line by line: its measures, with the words that stand at them. What moves chords
 * (`{transpose}`) holds from where it stands; a chorus that comes again is moved as all else is there.
 */
import type { Told } from '$lib/faults';
import { told } from '$lib/pieceFaults';
import { chordFaultText, readChordInKey } from '$lib/theory/readChord';
import { parseKey } from '$lib/theory/spelling';
import type { ChordChange, Measure, PieceWords, TempoMark } from '$lib/arrange/piece';
import {
  BOUNDS,
  DEFAULT_METRE,
  addFault,
  quartersOf,
  type Metre,
  type ProgressionFault,
} from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { TextPlaces } from '$lib/arrange/textPlace';
import { transposedPiece } from '$lib/arrange/transposed';
import type { Chord } from '$lib/theory/chord';
import { headOf } from './score';
import type { Token } from './songLines';

/** Moves of ChordPro's `transpose`, either way. */
const MOST_SEMITONES = 24;

/** Remarks that say where bar lines stand among words, and where a chord is held. */
const BAR_LINE = '|';
const HELD = '/';

/** A song while it is read. */
export class Song {
  readonly faults: ProgressionFault[] = [];
  readonly measures: Measure[] = [];
  readonly head: { title?: string; key?: string; tempo?: string; capo?: string } = {};
  metre: Metre | undefined;
  readonly #places: TextPlaces;
  #slots = 0;
  #section: string | undefined;
  /** Where the latest chorus begins and, once it has, ends among the measures. */
  #chorus: { readonly from: number; to?: number } | undefined;
  /** By measure: its chords and notes before they were moved. */
  readonly #unmoved: Pick<Measure, 'chords' | 'notes'>[] = [];
  /** Semitones by which chords move from here on, the latest last. */
  readonly #moves: number[] = [];
  #metreNow: Metre | undefined;
  /** What the next measure begins with. */
  #next: { metre?: Metre; tempos?: TempoMark[]; lasts?: number } = {};
  /** Words that lead to the next chord. */
  #leading: PieceWords[] = [];
  /** There is no room for more chords. */
  isFull = false;

  constructor(text: string) {
    this.#places = new TextPlaces(text);
  }

  fault(at: number, length: number, fault: Told): void {
    addFault(this.faults, () => ({
      where: this.#places.at(at),
      ...fault,
      mark: { at, length: Math.max(1, length) },
    }));
  }

  section(name: string): void {
    if (name !== '') this.#section = name;
  }

  beginChorus(): void {
    this.#chorus = { from: this.measures.length };
  }

  endChorus(): void {
    if (this.#chorus !== undefined) this.#chorus.to ??= this.measures.length;
  }

  /** The latest chorus once more, moved as chords are moved here. */
  recallChorus(label: string, at: number): void {
    this.endChorus();
    const { from, to } = this.#chorus ?? { from: 0, to: 0 };
    const again = this.measures.slice(from, to);
    const unmoved = this.#unmoved.slice(from, to);
    if (again.length === 0) this.fault(at, 1, told('piece.noChorus'));
    for (const [index, measure] of again.entries()) {
      const { section, ...own } = measure;
      const name = index === 0 ? label || section : section;
      if (name !== undefined) this.section(name);
      this.add({ ...own, ...unmoved[index] }, at);
    }
  }

  /** The piece's metre, or that from the next measure on. */
  time(value: string): void {
    const [, beats, unit] = /^(\d+)\s*\/\s*(\d+)$/u.exec(value) ?? [];
    const { metre } = headOf({ metre: { beats: Number(beats), unit: Number(unit) } });
    if (metre === undefined) return;
    if (this.measures.length === 0) this.metre = metre;
    else this.#next.metre = metre;
    this.#metreNow = metre;
  }

  tempo(value: string): void {
    if (this.measures.length === 0) this.head.tempo = value;
    const { tempo } = headOf({ tempo: Number.parseFloat(value) });
    if (this.measures.length > 0 && tempo !== undefined) this.#next.tempos = [{ at: 0, tempo }];
  }

  /** How long the next measure is, where that is not its metre's: `1/4`. */
  pickup(value: string): void {
    const [, beats, unit] = /^(\d+)\s*\/\s*(\d+)$/u.exec(value) ?? [];
    const { metre } = headOf({ metre: { beats: Number(beats), unit: Number(unit) } });
    if (metre !== undefined) this.#next.lasts = quartersOf(metre);
  }

  /** Quarter notes of the next measure. */
  get #length(): number {
    return this.#next.lasts ?? quartersOf(this.#metreNow ?? DEFAULT_METRE);
  }

  /** Chords after this move by so many semitones; without a number as before the latest move. */
  transpose(value: string, at: number): void {
    const semitones = Number(value.replace('−', '-').replace(/[s#♯f♭b]$/u, ''));
    if (value === '') this.#moves.pop();
    else if (Number.isInteger(semitones) && Math.abs(semitones) <= MOST_SEMITONES)
      this.#moves.push(semitones);
    else this.fault(at, 1, told('piece.transpose', value, MOST_SEMITONES));
  }

  /** A line of words with chords among them. */
  words(tokens: readonly Token[]): void {
    const isBarred = tokens.some(({ kind, text }) => kind === 'remark' && text === BAR_LINE);
    let begins = true;
    const wordsOf = (text: string, at: number): PieceWords[] => {
      if (text.trim() === '') return [];
      const words = { at, text, ...(begins ? { newLine: true as const } : {}) };
      begins = false;
      return [words];
    };
    if (isBarred) this.#barredWords(tokens, wordsOf);
    else
      for (const token of tokens)
        if (token.kind === 'chord') this.chord(token.text, token.at);
        else if (token.kind === 'words') this.#wordsAfter(wordsOf(token.text, 0), tokens);
  }

  /** Words behind the latest chord, or before the next where the line has yet to come to its first. */
  #wordsAfter(words: readonly PieceWords[], tokens: readonly Token[]): void {
    const [first] = words;
    if (first === undefined) return;
    const leads =
      this.measures.length === 0 ||
      (first.newLine === true && tokens[0]?.kind === 'words' && tokens.length > 1);
    if (leads) {
      this.#leading.push({ ...first, before: true });
      return;
    }
    const last = this.measures.pop() as Measure;
    const at = last.chords.at(-1)?.at ?? 0;
    this.measures.push({ ...last, words: [...(last.words ?? []), { ...first, at }] });
  }

  /** Measures between remarks that are bar lines; what stands in them has equal shares. */
  #barredWords(
    tokens: readonly Token[],
    wordsOf: (text: string, at: number) => PieceWords[],
  ): void {
    const bars: Token[][] = [];
    for (const token of tokens)
      if (token.kind === 'remark' && token.text === BAR_LINE) bars.push([]);
      else if (bars.length > 0) bars.at(-1)?.push(token);
      else if (token.kind === 'words')
        this.#leading.push(
          ...wordsOf(token.text, 0).map((each) => ({ ...each, before: true as const })),
        );
    for (const bar of bars) {
      const isShare = ({ kind, text }: Token): boolean =>
        kind === 'chord' || (kind === 'remark' && text === HELD);
      const share = this.#length / Math.max(1, bar.filter(isShare).length);
      let passed = 0;
      const chords: ChordChange[] = [];
      const words: PieceWords[] = [];
      for (const token of bar) {
        const at = share * Math.max(0, passed - 1);
        if (token.kind === 'words')
          words.push(
            ...wordsOf(token.text, at).map((each) =>
              passed === 0 && bar.some(isShare) ? { ...each, before: true as const } : each,
            ),
          );
        if (token.kind === 'chord') {
          const { text } = token;
          chords.push({ at: share * passed, chord: this.#chordIn(text, token.at) });
        }
        if (isShare(token)) passed++;
      }
      this.add({ chords, notes: [], ...(words.length === 0 ? {} : { words }) }, 0);
    }
  }

  #chordIn(symbol: string, at: number): Chord | 'no chord' {
    const read = readChordInKey(symbol, parseKey(this.head.key ?? ''));
    if (read.ok) return read.value;
    this.fault(
      at + read.error.at,
      read.error.length,
      told('chord.unreadable', symbol, chordFaultText(read.error)),
    );
    return 'no chord';
  }

  /** One chord, one measure. */
  chord(symbol: string, at: number): void {
    this.add({ chords: [{ at: 0, chord: this.#chordIn(symbol, at) }], notes: [] }, at);
  }

  add(measure: Measure, at: number): void {
    const move = this.#moves.at(-1) ?? 0;
    const key = parseKey(this.head.key ?? '');
    const written = { ...(key === undefined ? {} : { key }), measures: [measure] };
    const moved = move === 0 ? measure : (transposedPiece(written, move).measures[0] ?? measure);
    this.#append(moved, measure, at);
  }

  #append(measure: Measure, { chords, notes }: Measure, at: number): void {
    if (this.isFull) return;
    this.#slots += Math.max(1, measure.chords.length);
    if (this.#slots > BOUNDS.slots) {
      this.isFull = true;
      this.fault(at, 1, told('piece.tooManyChords', BOUNDS.slots));
      return;
    }
    const words = [...this.#leading, ...(measure.words ?? [])];
    const section = this.#section;
    this.measures.push({
      ...measure,
      ...this.#next,
      ...(section === undefined ? {} : { section }),
      ...(words.length === 0 ? {} : { words }),
    });
    this.#unmoved.push({ chords, notes });
    this.#section = undefined;
    this.#next = {};
    this.#leading = [];
  }

  /** The lines of a grid, by the reader of typed progressions; places stay what they are. */
  grid(lines: string, at: number): void {
    // `|.` closes a grid; `|1` and `|2` begin endings, which end with a full stop there
    const plain = lines
      .replace(/\|\./gu, '||')
      .replace(/\|(\d(?:[,-]\d)*)\.?/gu, '|$1.')
      .replace(/%%/gu, '% ');
    const places = placesIn(lines);
    const { piece, faults } = readProgression(plain);
    for (const { mark = { at: 0, length: 1 }, found, allowed, code } of faults)
      this.fault(at + places(mark.at), mark.length, { found, allowed, code });
    for (const { chords, ...measure } of piece?.measures ?? []) {
      const scale = this.#length / quartersOf(DEFAULT_METRE);
      const scaled = chords.map(({ chord, at: place }) => ({ at: place * scale, chord }));
      this.add({ ...measure, chords: scaled }, at);
    }
  }
}

/** Where a place of a grid is in its text, before full stops were put behind the numbers of endings. */
function placesIn(lines: string): (place: number) => number {
  const added = [...lines.matchAll(/\|\d(?:[,-]\d)*(?!\.)/gu)].map(
    ({ index, 0: text }, before) => index + text.length + before,
  );
  return (place) => place - added.filter((each) => each < place).length;
}
