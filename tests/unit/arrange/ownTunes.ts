/** Tunes made up for the tests, and how they are set down: `G4:1` is a note of a quarter, `-:1` a rest. */
import { readChord } from '$lib/theory/readChord';
import { parsePitch } from '$lib/theory/pitch';
import { parseKey } from '$lib/theory/spelling';
import type { Measure, Piece, PieceNote } from '$lib/arrange/piece';

/** `G4:1 A4:0.5~ -:1`, a slur to the next note written `(`, a tie `~`. */
function notesOf(text: string): PieceNote[] {
  let at = 0;
  return text
    .split(' ')
    .filter(Boolean)
    .map((word) => {
      const [, name = '', length = '', sign = ''] = /^(.+):([\d.]+)([~(]?)$/.exec(word) ?? [];
      const pitch: PieceNote['pitch'] | undefined = name === '-' ? 'rest' : parsePitch(name);
      if (pitch === undefined) throw new Error(word);
      const note = { at, lasts: Number(length), pitch };
      at += note.lasts;
      return {
        ...note,
        ...(sign === '~' ? { tied: true as const } : {}),
        ...(sign === '(' ? { slurred: true as const } : {}),
      };
    });
}

/** `C` at the beginning, `G7@2` at the third quarter. */
const chordsOf = (text: string): Measure['chords'] =>
  text
    .split(' ')
    .filter(Boolean)
    .map((word) => {
      const [symbol = '', at = '0'] = word.split('@');
      const chord = readChord(symbol);
      if (!chord.ok) throw new Error(word);
      return { at: Number(at), chord: chord.value };
    });

/** A piece of measures, each its chords and its notes. */
export function tuneOf(
  about: {
    readonly key: string;
    readonly metre: readonly [number, number];
    readonly tempo: number;
  },
  measures: readonly (readonly [chords: string, notes: string, pickup?: number])[],
): Piece {
  const key = parseKey(about.key);
  if (key === undefined) throw new Error(about.key);
  return {
    key,
    metre: { beats: about.metre[0], unit: about.metre[1] },
    tempo: about.tempo,
    measures: measures.map(([chords, notes, lasts]) => ({
      chords: chordsOf(chords),
      notes: notesOf(notes),
      ...(lasts === undefined ? {} : { lasts }),
    })),
  };
}

export const OWN_TUNES: Readonly<Record<string, Piece>> = {
  'a walk in C': tuneOf({ key: 'C', metre: [4, 4], tempo: 100 }, [
    ['C', 'G4:1 E4:1 F4:1 G4:1'],
    ['F', 'A4:1 C5:1 A4:2'],
    ['G G7@2', 'G4:0.5 A4:0.5 B4:1 D5:1 F5:1'],
    ['C', 'E5:2 -:1 C5:1'],
  ]),
  'a waltz in A minor': tuneOf({ key: 'Am', metre: [3, 4], tempo: 140 }, [
    ['Am', 'A4:1 C5:1 E5:1'],
    ['E7', 'D5:1( B4:1 G#4:1'],
    ['Am', 'A4:2 E4:1'],
    ['Dm', 'F4:1.5 G4:0.5 A4:1'],
    ['E7', 'B4:3~'],
    ['E7', 'B4:1 -:1 E5:1'],
    ['Am', 'A4:3'],
  ]),
  'with a pickup in G': tuneOf({ key: 'G', metre: [4, 4], tempo: 160 }, [
    ['', 'D4:0.5 E4:0.5', 1],
    ['G', 'G4:0.5 B4:0.5 D5:1 B4:1 G4:1'],
    ['C D7@2', 'A4:0.5 G4:0.5 E4:1 F#4:1 A4:1'],
    ['G', 'G4:3~'],
    ['Em', 'G4:1 B4:1 E5:2'],
    ['G', 'D5:1( B4:1 G4:1', 3],
  ]),
  'a jig in F': tuneOf({ key: 'F', metre: [6, 8], tempo: 150 }, [
    ['F', 'C5:0.5 A4:0.5 F4:0.5 A4:1 C5:0.5'],
    ['Bb', 'D5:1 Bb4:0.5 F4:1.5'],
    ['C7', 'E4:0.5 G4:0.5 Bb4:0.5 C5:0.5 B4:0.5 C5:0.5'],
    ['F', 'A4:1.5 F4:1 -:0.5'],
  ]),
};
