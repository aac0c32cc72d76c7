/**
 * Chords of a song text: inside the words as ChordPro 6 has them (`[Am]like this`), in its grids
 * (`{start_of_grid}`), or on lines of their own above the words. Words have no bars, so a chord among
 * them lasts one bar; grids have bars and keep them. A capo is undone: the chords are those that sound.
 */
import type { Told } from '$lib/faults';
import { told } from '$lib/pieceFaults';
import { chordFaultText, readChord } from '$lib/theory/readChord';
import { parseKey } from '$lib/theory/spelling';
import {
  BOUNDS,
  addFault,
  type Bar,
  type Progression,
  type ProgressionFault,
  type ReadProgression,
  type Slot,
} from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { TextPlaces } from '$lib/arrange/textPlace';
import { transposed } from '$lib/arrange/transposed';
import { headOf } from './score';

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

class Song {
  readonly faults: ProgressionFault[] = [];
  readonly bars: Bar[] = [];
  readonly head: { title?: string; key?: string; tempo?: string; time?: string; capo?: string } =
    {};
  readonly #places: TextPlaces;
  #slots = 0;
  #section: string | undefined;
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

  /** One chord, one bar. */
  chord(symbol: string, at: number): void {
    const read = readChord(symbol);
    if (!read.ok)
      this.fault(
        at + read.error.at,
        read.error.length,
        told('chord.unreadable', symbol, chordFaultText(read.error)),
      );
    this.add([{ chord: read.ok ? read.value : 'no chord', share: 1 }], at);
  }

  add(slots: readonly Slot[], at: number): void {
    if (this.isFull) return;
    this.#slots += slots.length;
    if (this.#slots > BOUNDS.slots) {
      this.isFull = true;
      this.fault(at, 1, told('piece.tooManyChords', BOUNDS.slots));
      return;
    }
    this.bars.push({ ...(this.#section === undefined ? {} : { section: this.#section }), slots });
    this.#section = undefined;
  }

  /** The lines of a grid, by the reader of typed progressions; places stay what they are. */
  grid(lines: string, at: number): void {
    // `|.` closes a grid, `|1` and `|2` begin endings; their signs are bar lines here
    const plain = lines.replace(/\|\./gu, '||').replace(/\|\d/gu, '||').replace(/%%/gu, '% ');
    const { progression, faults } = readProgression(plain);
    for (const { mark = { at: 0, length: 1 }, found, allowed, code } of faults)
      this.fault(at + mark.at, mark.length, { found, allowed, code });
    for (const { slots } of progression.bars) this.add(slots, at);
  }
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

function directive(song: Song, name: string, value: string): void {
  if (name === 'title' || name === 'key' || name === 'tempo' || name === 'time' || name === 'capo')
    song.head[name] ??= value.trim();
  else if (name === 'meta') {
    const [, key = '', rest = ''] = /^(\S+)\s+(.*)$/u.exec(value) ?? [];
    if (/^(title|key|tempo|time|capo)$/u.test(key)) directive(song, key, rest);
  } else if (name.startsWith('start_of_')) song.section(labelIn(value) || (NAMED[name] ?? ''));
}

function words(song: Song, { text, at }: Line): void {
  for (const match of text.matchAll(/\[([^\][]*)\]/gu)) {
    const symbol = match[1]?.trim() ?? '';
    // `[*slowly]` is a remark
    if (symbol === '' || symbol.startsWith('*')) continue;
    song.chord(symbol, at + match.index + 1 + (match[1]?.indexOf(symbol) ?? 0));
  }
}

const headFrom = ({ head }: Song): Omit<Progression, 'bars'> => {
  const [, beats, unit] = /^(\d+)\s*\/\s*(\d+)$/u.exec(head.time ?? '') ?? [];
  return headOf({
    title: head.title,
    key: parseKey(head.key ?? ''),
    tempo: Number.parseFloat(head.tempo ?? ''),
    metre: beats === undefined ? undefined : { beats: Number(beats), unit: Number(unit) },
  });
};

/** Reads a song text. */
export function readChordPro(text: string): ReadProgression {
  const song = new Song(text);
  let grid: { from: number; lines: string[] } | undefined;
  let closed: string | undefined;
  for (const line of linesOf(text)) {
    if (song.isFull) break;
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
    } else if (name !== undefined && CLOSED.test(name)) closed = name.replace('start', 'end');
    else if (name !== undefined) directive(song, name, given?.value ?? '');
    else if (grid !== undefined) grid.lines.push(line.text);
    else if (/^\s*#/u.test(line.text)) continue;
    else if (/^\s*\[(?![A-G][^\]]*\])[^\]]+\]\s*$/u.test(line.text))
      song.section(line.text.trim().slice(1, -1));
    else if (isChordLine(line.text)) {
      for (const word of line.text.matchAll(WORD))
        if (!BESIDE.test(word[0])) song.chord(word[0], line.at + word.index);
    } else words(song, line);
  }
  if (grid !== undefined) song.grid(grid.lines.join('\n'), grid.from);
  if (song.bars.length === 0 && song.faults.length === 0)
    song.fault(0, 1, told('piece.noChordsInSong'));
  const capo = Number(song.head.capo ?? 0);
  const progression: Progression = { ...headFrom(song), bars: song.bars };
  const sounding =
    Number.isInteger(capo) && capo > 0 && capo <= 12 ? transposed(progression, capo) : progression;
  return { progression: sounding, faults: song.faults };
}
