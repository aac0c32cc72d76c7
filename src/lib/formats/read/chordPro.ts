/**
 * Chords of a song text: inside the words as ChordPro 6 has them (`[Am]like this`), in its grids
 * (`{start_of_grid}`), or on lines of their own above the words. Words have no bars, so a chord among
 * them lasts one bar, unless remarks say where bar lines stand (`[*|]`, and a slash in place of the line holds a chord on); grids have
 * bars and keep them. A capo is undone: the chords are those that sound.
 */
import { told } from '$lib/pieceFaults';
import { parseKey } from '$lib/theory/spelling';
import type { Piece } from '$lib/arrange/piece';
import { played } from '$lib/arrange/pieceOf';
import { BOUNDS } from '$lib/arrange/progression';
import { transposedPiece } from '$lib/arrange/transposed';
import { Beyond } from './beyond';
import { headOf, type ReadPiece } from './score';
import { Song } from './song';
import {
  MOST_LINE,
  directiveIn,
  isChordLine,
  isWords,
  linesOf,
  tokensAbove,
  tokensOf,
  type Line,
} from './songLines';

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
/** The value of a directive's attribute (`label="Verse 1"`), or the whole of it. */
const labelIn = (value: string): string =>
  /label\s*=\s*"([^"]*)"/iu.exec(value)?.[1] ?? (value.includes('=') ? '' : value.trim());

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
