/**
 * A piece in time, as it is written: measures once each, with the signs that say in which order they are
 * played. What every reader fills and every writer takes; a text is one view of it.
 *
 * Places in a measure and lengths are in quarter notes from the measure's beginning, so that they mean
 * the same in every metre; `inOrder` gives beats and seconds.
 */
import type { Chord } from '$lib/theory/chord';
import type { Key } from '$lib/theory/spelling';
import type { MelodyNote, Metre } from './progression';

/** A chord from a place on, until the next one; over bar lines too. */
export interface ChordChange {
  readonly at: number;
  readonly chord: Chord | 'no chord';
}

/** A note of the melody, or a written rest. */
export interface PieceNote {
  readonly at: number;
  /** Above 0; 0 for a grace note, which takes its time from what follows. */
  readonly lasts: number;
  /** A name alone asks for any octave. */
  readonly pitch: MelodyNote | 'rest';
  /** The next note of this pitch is not begun anew. */
  readonly tied?: true;
  /** It is played in one breath with the next one. */
  readonly slurred?: true;
  /** By verse, from the first: the syllable under it, with a hyphen where the word goes on. */
  readonly lyrics?: readonly (string | undefined)[];
}

/** Words at a place without a note, as a song text has them under chords alone. */
export interface PieceWords {
  readonly at: number;
  /** With the spaces at its ends, where the next words are others. */
  readonly text: string;
  /** They are sung before the place and lead to it, as words before the first chord of a line do. */
  readonly before?: true;
  /** A line of the text begins with them. */
  readonly newLine?: true;
}

/** From a place on. */
export interface TempoMark {
  readonly at: number;
  /** Quarter notes a minute. */
  readonly tempo: number;
}

/** Where the piece goes on after a measure, and how it ends then. Repeats are not taken again. */
export interface Jump {
  /** D.C. or D.S. */
  readonly to: 'beginning' | 'segno';
  /** As it is written; *al Fine*; *al Coda*. */
  readonly until: 'end' | 'fine' | 'coda';
}

export interface Measure {
  /** From here on; the piece's own where none has been given. */
  readonly metre?: Metre;
  /** From here on. */
  readonly key?: Key;
  readonly tempos?: readonly TempoMark[];
  /** Quarter notes that it lasts where that is not its metre's: a pickup, and what completes it. */
  readonly lasts?: number;
  /** The name of the section that begins here. */
  readonly section?: string;
  /** In the order of their places; empty where the chord before goes on. */
  readonly chords: readonly ChordChange[];
  /** In the order of their places. */
  readonly notes: readonly PieceNote[];
  readonly words?: readonly PieceWords[];
  /** Lines of the writer's own before it, which nobody plays. */
  readonly remarks?: readonly string[];
  /**
   * It begins a line of what is written. Where no measure says so, four stand on a line; where one does, only
   * those that say so and what begins a section, a metre or a tempo.
   */
  readonly newLine?: true;

  /** A repeated part begins. */
  readonly repeats?: true;
  /** A repeated part ends, and is played so many times in all: 2 or more. */
  readonly times?: number;
  /** It is played only these times through, from 1; every measure of an ending says so. */
  readonly endings?: readonly number[];
  readonly segno?: true;
  readonly coda?: true;
  /** After it to the coda, once a jump has asked for that. */
  readonly toCoda?: true;
  /** It ends here, once a jump has asked for that. */
  readonly fine?: true;
  readonly jump?: Jump;
}

export interface Piece {
  readonly title?: string;
  /** As given; `keyOf` finds one where none is. */
  readonly key?: Key;
  /** At the beginning; common time where left out. */
  readonly metre?: Metre;
  /** At the beginning, in quarter notes a minute; `DEFAULT_TEMPO` where left out. */
  readonly tempo?: number;
  readonly measures: readonly Measure[];
  /** Lines of the writer's own after the last measure. */
  readonly remarks?: readonly string[];
}

/** Measures on a line where nothing else is said. */
export const MEASURES_A_LINE = 4;

/** Places that are nearer than this are one: lengths of tuplets are no whole numbers. In quarter notes. */
export const SAME_PLACE = 1e-6;

/** How a sign that leads nowhere is told: what there should be. */
export const LOST = { segno: 'the sign', coda: 'a coda', fine: 'an end' } as const;

/** Endings of one number, over which nobody counts. */
const MOST_PASSES = 16;

/** The passes that an ending such as `1,3` or `1-3` is for. */
export function passesIn(text: string): number[] {
  return text.split(',').flatMap((part) => {
    const [from = NaN, to = from] = part.split('-').map(Number);
    if (!Number.isInteger(from) || !Number.isInteger(to)) return [];
    const count = Math.max(0, Math.min(MOST_PASSES, to - from + 1));
    return Array.from({ length: count }, (_, i) => from + i).filter((pass) => pass > 0);
  });
}
