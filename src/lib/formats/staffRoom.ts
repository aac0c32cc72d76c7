/** How much of a line of staves measures want: for their notes, for words, and for the numbers of the tablature. */
import { SAME_PLACE, type Piece } from '$lib/arrange/piece';
import type { TuneMeasure } from '$lib/arrange/tuneMeasures';
import type { Chord } from '$lib/theory/chord';
import { begins, spansOf } from './write/tuneSpans';

/** Clef, signature and metre. */
const HEAD = 90;
/** What a quarter note takes as it is drawn; others by the root of their length. */
const QUARTER = 43;
const BAR = 22;
/** A character of the words, and of the bolder chord signs. */
const CHARACTER = 7;
const SIGN = 8.5;
/** Between one chord sign and the next. */
const APART = 6;
/** Letters and numbers may be set so much smaller before they want more room. */
const SMALLER = 2 / 3;

const isWithin = (place: number, from: number, to: number): boolean =>
  place >= from - SAME_PLACE && place < to - SAME_PLACE;

/** What a measure wants of a line, in pixels. */
export interface Room {
  /** What each note wants by its length, its words and the tablature under it. */
  readonly wants: number;
  /** By the lengths alone, which is how a line's room is shared out. */
  readonly shared: number;
  /** How many times that, so that no number of the tablature runs into the next. */
  readonly times: number;
}

/**
 * @param widthOf what a step needs under its note, by its number among all
 * @param signsOf how a chord is written, line by line
 */
export function roomOf(
  piece: Piece,
  measure: TuneMeasure,
  widthOf: (index: number) => number,
  signsOf: (chord: Chord | 'no chord') => readonly string[],
): Room {
  const { metre, lasts, at: start, steps } = measure;
  const length = (lasts * 4) / metre.unit;
  const wants = new Map<number, { words: number; numbers: number }>();
  const want = (at: number, own: { words?: number; numbers?: number }): void => {
    const place = Math.round(at * 1000) / 1000;
    const { words, numbers } = wants.get(place) ?? { words: 0, numbers: 0 };
    wants.set(place, {
      words: Math.max(words, own.words ?? 0),
      numbers: Math.max(numbers, own.numbers ?? 0),
    });
  };
  const written = piece.measures[measure.measure] ?? { chords: [], notes: [] };
  for (const span of spansOf(written, length)) {
    const words = span.note?.lyrics?.map((each) => each?.length ?? 0) ?? [];
    want(span.from, { words: begins(span) ? 8 + CHARACTER * Math.max(0, ...words) : 0 });
  }
  for (const { step, index } of steps)
    want(((step.onset.at - start) * 4) / metre.unit, { numbers: widthOf(index) });
  const places = [...wants.keys()].sort((a, b) => a - b);
  const rooms = places.map((place, order) => {
    const { words, numbers } = wants.get(place) ?? { words: 0, numbers: 0 };
    const lasting = (places[order + 1] ?? length) - place;
    return { shared: QUARTER * Math.sqrt(Math.max(0.2, lasting)), words, numbers };
  });
  const sum = (each: (room: (typeof rooms)[number]) => number): number =>
    rooms.reduce((all, room) => all + each(room), BAR);
  // a chord sign reaches over the notes to the next one
  const signs = written.chords.map(({ at, chord }, order) => {
    const until = written.chords[order + 1]?.at ?? length;
    const wide = SIGN * Math.max(0, ...signsOf(chord).map((each) => each.length)) + APART;
    const under = rooms.filter((_, place) => isWithin(places[place] ?? 0, at, until));
    const shared = under.reduce((all, each) => all + each.shared, until === length ? BAR : 0);
    return { over: Math.max(0, wide - shared), times: wide / Math.max(shared, 1) };
  });
  const over = signs.reduce((all, each) => all + each.over, 0);
  return {
    wants: sum(({ shared, words, numbers }) => Math.max(shared, words, numbers)) + over,
    shared: sum(({ shared }) => shared),
    times: Math.max(
      1,
      ...rooms.map(({ shared, numbers }) => (SMALLER * numbers) / shared),
      ...signs.map(({ times }) => times),
    ),
  };
}

/** Pixels of a line of such measures. */
export const filledBy = (rooms: readonly Room[]): number => {
  const sum = (each: (room: Room) => number): number =>
    rooms.reduce((all, room) => all + each(room), 0);
  const times = Math.max(1, ...rooms.map((room) => room.times));
  return (
    HEAD +
    Math.max(
      sum(({ wants }) => wants),
      times * sum(({ shared }) => shared),
    )
  );
};
