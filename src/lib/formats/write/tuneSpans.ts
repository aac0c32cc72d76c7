/** A measure cut where a chord or a note of the tune begins or ends: what notation writes one after another. */
import type { Chord } from '$lib/theory/chord';
import { SAME_PLACE, type Measure, type PieceNote } from '$lib/arrange/piece';
import { isPitch } from '$lib/arrange/progression';
import { TICKS } from '../ticks';

/** From one place of a measure to the next. */
export interface Span {
  readonly from: number;
  readonly to: number;
  readonly chord: Chord | 'no chord' | undefined;
  readonly note: PieceNote | undefined;
}

/** In quarter notes, as near as a sixteenth of any tuplet up to sixteen. */
const snapped = (place: number): number => Math.round(place * TICKS) / TICKS;

/** @param length of the measure, in quarter notes */
export function spansOf(
  { chords, notes }: Pick<Measure, 'chords' | 'notes'>,
  length: number,
): Span[] {
  const sounding = notes.filter(
    ({ lasts, pitch }) => lasts > 0 && pitch !== 'rest' && isPitch(pitch),
  );
  const places = [
    0,
    length,
    ...chords.map(({ at }) => at),
    ...sounding.flatMap(({ at, lasts }) => [at, at + lasts]),
  ];
  const cuts = [...new Set(places.map(snapped))]
    .filter((place) => place >= 0 && place <= length + SAME_PLACE)
    .sort((a, b) => a - b);
  return cuts.slice(0, -1).map((from, at): Span => {
    const to = cuts[at + 1] ?? length;
    const is = (place: number): boolean => Math.abs(place - from) < SAME_PLACE;
    return {
      from,
      to,
      chord: chords.find((each) => is(each.at))?.chord,
      note: sounding.find(
        (each) => each.at <= from + SAME_PLACE && each.at + each.lasts >= to - SAME_PLACE,
      ),
    };
  });
}

/** Whether a note goes on behind a span: it lasts longer, or the next one is tied to it. */
export const goesOn = ({ note, to }: Span): boolean =>
  note !== undefined && (note.at + note.lasts > to + SAME_PLACE || note.tied === true);

/** Whether a span is where its note begins. */
export const begins = ({ from, note }: Span): boolean =>
  note !== undefined && Math.abs(note.at - from) < SAME_PLACE;
