/**
 * A piece to be arranged: bars of chords, each perhaps with a melody note. What every reader of a
 * file gives and every writer takes.
 */
import type { Told } from '$lib/faults';
import { told } from '$lib/pieceFaults';
import type { Chord } from '$lib/theory/chord';
import type { NoteName, Pitch } from '$lib/theory/pitch';
import type { Key } from '$lib/theory/spelling';
import type { Piece, TempoMark } from './piece';

export interface Metre {
  /** Beats of a bar, 1 … 32. */
  readonly beats: number;
  /** The note that is a beat: 1, 2, 4, 8, 16 or 32. */
  readonly unit: number;
}

/** A note on top: one pitch, or a name that any octave satisfies. */
export type MelodyNote = Pitch | NoteName;

/** Is a melody note one pitch, rather than a name for any octave? */
export const isPitch = (note: MelodyNote): note is Pitch => 'midi' in note;

export interface Slot {
  readonly chord: Chord | 'no chord';
  /** How many equal parts of the bar; a bar has as many parts as its slots have together. Whole, ≥ 1. */
  readonly share: number;
  readonly melody?: MelodyNote;
}

export interface Bar {
  /** The name of the section that begins here. */
  readonly section?: string;
  /** How much of a bar of the piece's metre it lasts, above 0; 1 where left out. A pickup lasts less. */
  readonly part?: number;
  /** At least one. */
  readonly slots: readonly Slot[];
}

export interface Progression {
  readonly title?: string;
  /** As given; `keyOf` finds one where none is. */
  readonly key?: Key;
  /** Quarter notes a minute, at the beginning. */
  readonly tempo?: number;
  /** Changes of tempo in order, by their places from the beginning, in quarter notes. */
  readonly tempos?: readonly TempoMark[];
  readonly metre?: Metre;
  readonly bars: readonly Bar[];
}

/** What a piece may hold, from the least to the most. Tempo is in quarter notes a minute. */
export const BOUNDS = {
  /** Slots of a progression; longer pieces are arranged in parts. */
  slots: 1000,
  tempo: [20, 400],
  beats: [1, 32],
  units: [1, 2, 4, 8, 16, 32],
} as const;

/** Quarter notes a minute of a piece that says nothing. */
export const DEFAULT_TEMPO = 100;
/** Common time, for a piece that says nothing. */
export const DEFAULT_METRE: Metre = { beats: 4, unit: 4 };

/** A piece of the input that could not be read; what is around it is taken. */
export interface ProgressionFault extends Told {
  /** For people: `line 2, place 5`, `measure 12`. */
  readonly where: string;
  /** Where in the text, in UTF-16 units from 0; left out where the input is no text. */
  readonly mark?: { readonly at: number; readonly length: number };
  /** The bar and the slot in it, from 0, that stand empty (no chord) because of it. */
  readonly slot?: { readonly bar: number; readonly slot: number };
  /** Chords in letters that were likely meant by what is marked, most likely first. */
  readonly meant?: readonly string[];
}

/** What a file has and a piece cannot hold: no mistake of the file's, and nothing to be mended. */
export interface NotTaken {
  /** Where it is, for people: `measures 3, 7 and 12 more`; empty where it is all through the file. */
  readonly where: string;
  /** What it is, and what was done instead, as the rest of a sentence. */
  readonly words: string;
}

/** As a sentence. */
export const notTakenText = ({ where, words }: NotTaken): string =>
  `${where === '' ? '' : `${where}: `}${words}.`;

/** What every reader gives: as much as could be read, and what could not. */
export interface ReadProgression {
  readonly progression: Progression;
  /** The same as it is written, with its form, its tune and its words; of readers that know of them. */
  readonly piece?: Piece;
  /** What of the source has no place in a piece; nothing where left out. */
  readonly notTaken?: readonly NotTaken[];
  readonly faults: readonly ProgressionFault[];
}

/** More than that nobody reads. */
const MOST_FAULTS = 1000;

/** Adds a fault to those of a piece; where there are very many, the last one says so. */
export function addFault(faults: ProgressionFault[], fault: () => ProgressionFault): void {
  if (faults.length < MOST_FAULTS) faults.push(fault());
  else if (faults.length === MOST_FAULTS)
    faults.push({ where: fault().where, ...told('piece.tooManyFaults', MOST_FAULTS) });
}

/** A fault as a sentence. */
export const progressionFaultText = ({ where, found, allowed }: ProgressionFault): string =>
  `${where}: found ${found}; allowed is ${allowed}.`;

/** A slot with where it stands in the whole piece. */
export interface Step extends Slot {
  /** From 0. */
  readonly bar: number;
  /** In the bar, from 0. */
  readonly slot: number;
  /** Bars of the piece's metre from the beginning to where it begins. */
  readonly start: number;
  /** Part of such a bar that it lasts, above 0. */
  readonly length: number;
}

/** Every slot in order. */
export function stepsOf({ bars }: Pick<Progression, 'bars'>): Step[] {
  let begin = 0;
  return bars.flatMap(({ slots, part = 1 }, bar) => {
    const parts = slots.reduce((sum, { share }) => sum + share, 0) / part;
    const first = begin;
    let before = 0;
    begin += part;
    return slots.map((slot, index): Step => {
      const start = first + before / parts;
      before += slot.share;
      return { ...slot, bar, slot: index, start, length: slot.share / parts };
    });
  });
}

/** Quarter notes of a bar. */
export const quartersOf = ({ beats, unit }: Metre): number => (beats * 4) / unit;

/**
 * Seconds from the beginning to a place, which is told in bars of the piece's metre, with the changes of
 * tempo before it.
 */
export function clockOf({
  metre = DEFAULT_METRE,
  tempo = DEFAULT_TEMPO,
  tempos = [],
}: Progression): (bars: number) => number {
  const whole = quartersOf(metre);
  let before = { at: 0, tempo, seconds: 0 };
  const marks = [before];
  for (const mark of tempos) {
    const seconds = before.seconds + ((mark.at - before.at) * 60) / before.tempo;
    marks.push((before = { ...mark, seconds }));
  }
  return (bars) => {
    const place = bars * whole;
    const mark = marks.findLast(({ at }) => at <= place) ?? before;
    return mark.seconds + ((place - mark.at) * 60) / mark.tempo;
  };
}

/** The same piece with every slot changed; bars and sections stay. */
export const withSlots = (
  progression: Progression,
  change: (slot: Slot, index: number) => Slot,
): Progression => {
  let index = 0;
  return {
    ...progression,
    bars: progression.bars.map((bar) => ({
      ...bar,
      slots: bar.slots.map((slot) => change(slot, index++)),
    })),
  };
};
