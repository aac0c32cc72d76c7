/**
 * Chords of a song text: inside the words as ChordPro 6 has them (`[Am]like this`), in its grids
 * (`{start_of_grid}`), or on lines of their own above the words. Words have no bars, so a chord among
 * them lasts one bar, unless remarks say where bar lines stand (`[*|]`, and a slash in place of the line holds a chord on); grids have
 * bars and keep them. A capo is undone: the chords are those that sound.
 */
import type { Told } from '$lib/faults';
import { told } from '$lib/pieceFaults';
import { chordFaultText, readChord, readChordInKey } from '$lib/theory/readChord';
import { parseKey } from '$lib/theory/spelling';
import type { ChordChange, Measure, Piece, PieceWords, TempoMark } from '$lib/arrange/piece';
import { played } from '$lib/arrange/pieceOf';
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
import { Beyond } from './beyond';
import { headOf, type ReadPiece } from './score';

const DIRECTIVE = /^([a-z_]+)(?:-[a-z!]+)?(?=[\s:]|$)/iu;

/** A directive in its braces, `{name: value}`: its name in small letters, and its value. */
function directiveIn(line: string): { name: string; value: string } | undefined {
  const braced = line.trim();
  if (!braced.startsWith('{') || braced.indexOf('}') !== braced.length - 1) return undefined;
  const inner = braced.slice(1, -1).trim();
  const match = DIRECTIVE.exec(inner);
  if (match === null) return undefined;
  const [word, name = ''] = match;
  return { name: name.toLowerCase(), value: inner.slice(word.length).replace(/^\s*:?\s*/u, '') };
}
const SHORT: Readonly<Record<string, string>> = {
  t: 'title',
  soc: 'start_of_chorus',
  eoc: 'end_of_chorus',
  sov: 'start_of_verse',
  sob: 'start_of_bridge',
  sog: 'start_of_grid',
  eog: 'end_of_grid',
  sot: 'start_of_tab',
  eot: 'end_of_tab',
};
const NAMED: Readonly<Record<string, string>> = {
  start_of_chorus: 'Chorus',
  start_of_verse: 'Verse',
  start_of_bridge: 'Bridge',
};
/** What stands in these is no song text. */
const CLOSED = /^start_of_(tab|abc|ly|svg|textblock)$/u;
const WORD = /\S+/gu;
/** Signs that stand on a line of chords and are none. */
const BESIDE = /^(?:\||\|\||:|-|\(?[x×]\d+\)?|\*)$/u;

/** Moves of ChordPro's `transpose`, either way. */
const MOST_SEMITONES = 24;

/** A longer line is none of a song. */
const MOST_LINE = 20_000;

/** A line on which every word is a chord; a lone word must look like one, since “A” is a word too. */
function isChordLine(line: string): boolean {
  const words = line.match(WORD)?.filter((word) => !BESIDE.test(word)) ?? [];
  return words.length > 0 && words.every((word) => readChord(word).ok);
}

/** The value of a directive's attribute (`label="Verse 1"`), or the whole of it. */
const labelIn = (value: string): string =>
  /label\s*=\s*"([^"]*)"/iu.exec(value)?.[1] ?? (value.includes('=') ? '' : value.trim());

/** A stretch of a line of words: a chord, a remark, or words. */
type Token =
  | { readonly kind: 'chord'; readonly text: string; readonly at: number }
  | { readonly kind: 'remark' | 'words'; readonly text: string };

/** Remarks that say where bar lines stand among words, and where a chord is held. */
const BAR_LINE = '|';
const HELD = '/';

class Song {
  readonly faults: ProgressionFault[] = [];
  readonly measures: Measure[] = [];
  readonly head: { title?: string; key?: string; tempo?: string; capo?: string } = {};
  metre: Metre | undefined;
  readonly #places: TextPlaces;
  #slots = 0;
  #section: string | undefined;
  /** Where the latest chorus begins and, once it has, ends among the measures. */
  #chorus: { readonly from: number; to?: number } | undefined;
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

  /** The latest chorus once more, as it was moved then. */
  recallChorus(label: string, at: number): void {
    this.endChorus();
    const { from, to } = this.#chorus ?? { from: 0, to: 0 };
    const again = this.measures.slice(from, to);
    if (again.length === 0) this.fault(at, 1, told('piece.noChorus'));
    for (const [index, measure] of again.entries()) {
      const { section, ...own } = measure;
      const name = index === 0 ? label || section : section;
      if (name !== undefined) this.section(name);
      this.#append(own, at);
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
    this.#append(moved, at);
  }

  #append(measure: Measure, at: number): void {
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

/** One line of song text, and where it begins. */
interface Line {
  readonly text: string;
  readonly at: number;
}

function linesOf(text: string): Line[] {
  let at = 0;
  return text.split('\n').map((line) => {
    const here = { text: line.replace(/\r$/u, ''), at };
    at += line.length + 1;
    return here;
  });
}

/** Whether a text is a song text of this kind, rather than chords in bars. */
export function isSongText(text: string): boolean {
  const lines = text.split(/\r?\n/u);
  if (lines.some((line) => directiveIn(line) !== undefined)) return true;
  // chords inside words: [G]like this; a lone [Verse] is a section mark of typed progressions too
  if (lines.some((line) => /\[[A-G][^\][\s]*\]\S|\S\[[A-G][^\][\s]*\]/u.test(line))) return true;
  // chords above words, without a bar line anywhere
  return (
    !text.includes('|') &&
    lines.some((line, at) => {
      const below = lines[at + 1] ?? '';
      return isChordLine(line) && below.trim() !== '' && !isChordLine(below);
    })
  );
}

function directive(song: Song, name: string, value: string, at: number): void {
  if (name === 'chorus') song.recallChorus(labelIn(value), at);
  else if (name === 'transpose') song.transpose(value.trim(), at);
  else if (name === 'end_of_chorus') song.endChorus();
  else if (name === 'time') song.time(value.trim());
  else if (name === 'tempo') song.tempo(value.trim());
  else if (name === 'pickup') song.pickup(value.trim());
  else if (name === 'title' || name === 'key' || name === 'capo') song.head[name] ??= value.trim();
  else if (name === 'meta') {
    const [, key = '', rest = ''] = /^(\S+)\s+(.*)$/u.exec(value) ?? [];
    if (/^(title|key|tempo|time|capo|pickup)$/u.test(key)) directive(song, key, rest, at);
  } else if (name.startsWith('start_of_')) {
    if (name === 'start_of_chorus') song.beginChorus();
    song.section(labelIn(value) || (NAMED[name] ?? ''));
  }
}

/** Chords in brackets among words; `[*slowly]` is a remark. */
function tokensOf({ text, at }: Line): Token[] {
  const tokens: Token[] = [];
  let from = 0;
  for (const match of text.matchAll(/\[([^\][]*)\]/gu)) {
    if (match.index > from) tokens.push({ kind: 'words', text: text.slice(from, match.index) });
    from = match.index + match[0].length;
    const inside = match[1] ?? '';
    const symbol = inside.trim();
    if (symbol.startsWith('*')) tokens.push({ kind: 'remark', text: symbol.slice(1) });
    else if (symbol !== '')
      tokens.push({
        kind: 'chord',
        text: symbol,
        at: at + match.index + 1 + inside.indexOf(symbol),
      });
  }
  if (from < text.length) tokens.push({ kind: 'words', text: text.slice(from) });
  return tokens;
}

/** A line of chords over the words below it, column by column. */
function tokensAbove({ text, at }: Line, below: string): Token[] {
  const chords = [...text.matchAll(WORD)].filter((word) => !BESIDE.test(word[0]));
  const words = (from: number, to?: number): Token[] => {
    const here = below.slice(from, to);
    return here === '' ? [] : [{ kind: 'words', text: here }];
  };
  return [
    ...words(0, chords[0]?.index),
    ...chords.flatMap((word, index): Token[] => [
      { kind: 'chord', text: word[0], at: at + word.index },
      ...words(word.index, chords[index + 1]?.index),
    ]),
  ];
}

/** Whether words of a song stand on a line. */
const isWords = (line: Line | undefined): line is Line =>
  line !== undefined &&
  line.text.trim() !== '' &&
  line.text.length <= MOST_LINE &&
  directiveIn(line.text) === undefined &&
  !/^\s*[#[]/u.test(line.text) &&
  !isChordLine(line.text);

const headFrom = ({ head, metre }: Song): Omit<Piece, 'measures'> =>
  headOf({
    title: head.title,
    key: parseKey(head.key ?? ''),
    tempo: Number.parseFloat(head.tempo ?? ''),
    metre,
  });

/** Reads a song text. */
export function readChordPro(text: string): ReadPiece {
  const song = new Song(text);
  let grid: { from: number; lines: string[] } | undefined;
  let closed: string | undefined;
  const beyond = new Beyond();
  const lines = linesOf(text);
  for (let number = 0; number < lines.length && !song.isFull; number++) {
    const line = lines[number] as Line;
    if (line.text.length > MOST_LINE) {
      song.fault(line.at, 1, told('line.tooLong', line.text.length, MOST_LINE));
      continue;
    }
    const given = directiveIn(line.text);
    const name = given && (SHORT[given.name] ?? given.name);
    if (closed !== undefined) {
      if (name === closed) closed = undefined;
    } else if (name === 'end_of_grid') {
      if (grid !== undefined) song.grid(grid.lines.join('\n'), grid.from);
      grid = undefined;
    } else if (name === 'start_of_grid') {
      song.section(labelIn(given?.value ?? ''));
      grid = { from: line.at + line.text.length + 1, lines: [] };
    } else if (name !== undefined && CLOSED.test(name)) {
      closed = name.replace('start', 'end');
      beyond.add('closed', String(number + 1));
    } else if (name !== undefined) directive(song, name, given?.value ?? '', line.at);
    else if (grid !== undefined) grid.lines.push(line.text);
    else if (/^\s*#/u.test(line.text)) continue;
    else if (/^\s*\[(?![A-G*][^\]]*\])[^\]]+\]\s*$/u.test(line.text))
      song.section(line.text.trim().slice(1, -1));
    else if (isChordLine(line.text)) {
      const below = lines[number + 1];
      if (isWords(below)) number++;
      song.words(tokensAbove(line, isWords(below) ? below.text : ''));
    } else song.words(tokensOf(line));
  }
  if (grid !== undefined) song.grid(grid.lines.join('\n'), grid.from);
  if (song.measures.length === 0 && song.faults.length === 0)
    song.fault(0, 1, told('piece.noChordsInSong'));
  const capo = Number(song.head.capo ?? 0);
  const written: Piece = { ...headFrom(song), measures: song.measures };
  const isCapo = Number.isInteger(capo) && capo > 0 && capo <= 12;
  const piece = isCapo ? transposedPiece(written, capo) : written;
  const { progression, lost } = played(piece);
  if (lost.length > 0) song.fault(0, 1, told('piece.tooManyChords', BOUNDS.slots));
  return { progression, piece, faults: song.faults, notTaken: beyond.list('line') };
}
