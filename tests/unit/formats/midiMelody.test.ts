/** Melodies read from MIDI files: every note of them, as the tunes that they were written from have it. */
import { describe, expect, it } from 'vitest';
import { inOrder, clocked, secondsTo } from '$lib/arrange/inOrder';
import type { Piece } from '$lib/arrange/piece';
import { isPitch } from '$lib/arrange/progression';
import { readAbc } from '$lib/formats/read/abc';
import { readMidiTune } from '$lib/formats/read/midi';
import { withMelodyOf } from '$lib/formats/read/midiMelody';
import { writeMidiFile, type MidiNote } from '$lib/formats/write/midi';
import { OWN_TUNES } from '../arrange/ownTunes';

/** Notes as a player would have them: early or late, and parted. */
type Played = (note: MidiNote, index: number) => MidiNote;
const exactly: Played = (note) => note;
const byHand: Played = (note, index) => ({
  ...note,
  at: Math.max(0, note.at + [0.01, -0.012, 0.015, -0.005][index % 4]!),
  duration: note.duration - 0.03,
});

/** A piece's notes as a file, with chords under them on the same track, and read back. */
function heard(piece: Piece, played: Played, under: readonly number[]) {
  const notes = inOrder(piece).notes.flatMap(({ pitch, seconds, lastsSeconds }): MidiNote[] =>
    isPitch(pitch) ? [{ string: 1, midi: pitch.midi, at: seconds, duration: lastsSeconds }] : [],
  );
  const chords = under.map((at) => ({ string: 1, midi: 48, at, duration: 1.5 }));
  const bytes = writeMidiFile({
    ...{ title: '', tempo: piece.tempo ?? 100, metre: piece.metre ?? { beats: 4, unit: 4 } },
    ...{ markers: [], notes: [...notes.map(played), ...chords] },
  });
  const tune = readMidiTune(bytes);
  if (!tune.ok) throw new Error('a tune was expected');
  return tune.value;
}
const chordsAlone = (piece: Piece): Piece => ({
  ...piece,
  measures: piece.measures.map((measure) => ({ ...measure, notes: [] })),
});
const sungIn = (piece: Piece) =>
  inOrder(piece).notes.map(({ at, lasts, pitch }) => [
    Math.round(at * 1000) / 1000,
    Math.round(lasts * 1000) / 1000,
    isPitch(pitch) ? pitch.midi : NaN,
  ]);

describe.each(Object.entries(OWN_TUNES))('%s', (_, piece) => {
  it('comes whole from a file that keeps its time', () => {
    const { piece: read, notTaken } = withMelodyOf(chordsAlone(piece), heard(piece, exactly, []));
    expect(sungIn(read)).toEqual(sungIn(piece));
    expect(notTaken).toEqual([]);
    expect(read.measures.map(({ chords }) => chords)).toEqual(
      piece.measures.map(({ chords }) => chords),
    );
  });

  it('comes whole from a file as a hand plays it, over other notes', () => {
    const [clock] = clocked(piece);
    const second = clock === undefined ? 0 : secondsTo(clock, clock.length) + 0.2;
    const tune = heard(piece, byHand, [second]);
    const { piece: read } = withMelodyOf(chordsAlone(piece), tune);
    expect(sungIn(read).map(([at, , midi]) => [at, midi])).toEqual(
      sungIn(piece).map(([at, , midi]) => [at, midi]),
    );
  });
});

it('keeps a repeat whose passes have the same notes, and writes out one that has others', () => {
  const head = 'X:1\nM:4/4\nL:1/4\nK:C\n';
  const pieceOf = (abc: string): Piece => {
    const read = readAbc(head + abc);
    if (!read.ok || read.value.piece === undefined) throw new Error('a piece was expected');
    return read.value.piece;
  };
  const chords = chordsAlone(pieceOf('|: "C"C2 E2 | "G"D4 :|'));
  const same = heard(pieceOf('C E G E | D4 | C E G E | D4 |]'), exactly, []);
  expect(withMelodyOf(chords, same).piece.measures).toHaveLength(2);
  const other = heard(pieceOf('C E G E | D4 | c e g e | d4 | c4 |]'), exactly, []);
  const read = withMelodyOf(chords, other);
  expect(read.piece.measures).toHaveLength(4);
  expect(read.notTaken.map(({ words }) => words)).toEqual([
    'one note of the tune lies behind the last measure of the chords, and is left out',
  ]);
});
