/** How much of a line of staves measures want: for their notes, for words, and for the numbers of the tablature. */
import type { Piece } from '$lib/arrange/piece';
import type { TuneMeasure } from '$lib/arrange/tuneMeasures';
import { begins, spansOf } from './write/tuneSpans';

/** Clef, signature and metre. */
const HEAD = 90;
/** What a quarter note takes as it is drawn; others by the root of their length. */
const QUARTER = 43;
const BAR = 22;
/** A character of the words. */
const CHARACTER = 7;
/** Letters and numbers may be set so much smaller before they want more room. */
const SMALLER = 2 / 3;

/** What a measure wants of a line, in pixels. */
export interface Room {
  /** What each note wants by its length, its words and the tablature under it. */
  readonly wants: number;
  /** By the lengths alone, which is how a line's room is shared out. */
  readonly shared: number;
  /** How many times that, so that no number of the tablature runs into the next. */
  readonly times: number;
}

/** @param widthOf what a step needs under its note, by its number among all */
export function roomOf(
  piece: Piece,
  measure: TuneMeasure,
  widthOf: (index: number) => number,
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
  for (const span of spansOf(
    piece.measures[measure.measure] ?? { chords: [], notes: [] },
    length,
  )) {
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
  return {
    wants: sum(({ shared, words, numbers }) => Math.max(shared, words, numbers)),
    shared: sum(({ shared }) => shared),
    times: Math.max(1, ...rooms.map(({ shared, numbers }) => (SMALLER * numbers) / shared)),
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
