/**
 * A tune's arrangement as it is to be written: a part that is played alike each time stands there once with its
 * repeat and its endings, and what is played otherwise is written out. Steps are of tunes as they are played.
 */
import { clocked, orderOf, type Clocked } from '$lib/arrange/inOrder';
import { SAME_PLACE, type Piece } from '$lib/arrange/piece';
import { tuneMeasures, type TuneMeasure } from '$lib/arrange/tuneMeasures';
import { writtenWhereAlike } from '$lib/arrange/writtenOut';
import { soundingIn, type Sounding, type Struck } from './staffSteel';

/** A measure as it is written; its place in the form's piece is its place among the measures. */
export interface FormedMeasure extends TuneMeasure<Struck> {
  /** As the piece itself numbers it, from 1. */
  readonly number: number;
}

export interface TuneForm {
  /** The measures as they are written. */
  readonly piece: Piece;
  /** One for each of the piece's, with the steps of the first time that it is played. */
  readonly measures: readonly FormedMeasure[];
  /** By step in the order of playing: the number of the step that stands for it. */
  readonly shown: readonly number[];
  /** A part that the piece repeats is written out, because it is not played alike each time. */
  readonly isWrittenOut: boolean;
}

/** What a copyist would write in a measure; at a seam not what leads over it. */
function written(sounding: readonly Sounding[], begins: boolean, ends: boolean): string {
  const own = begins ? sounding.filter(({ goesOn }) => !goesOn) : sounding;
  return JSON.stringify(
    own.map(({ step, from, to, tied, bound, goesOn }, each) => {
      const { hold, way, strings, strike } = step;
      const isFirst = each === 0 && begins;
      const isLast = each === own.length - 1 && ends;
      return [
        Math.round(from / SAME_PLACE),
        Math.round(to / SAME_PLACE),
        goesOn,
        hold.neck,
        hold.fret,
        hold.slant,
        hold.strings,
        way,
        strike,
        isFirst ? [] : strings.map(({ string, reached }) => [string, reached]),
        ...(isLast ? [] : [tied, bound]),
      ];
    }),
  );
}

/** The arrangement with the form of its piece, as far as it is played alike each time. */
export function tuneForm(given: Piece, steps: readonly Struck[]): TuneForm {
  const all = tuneMeasures(given, steps);
  const order = all.map(({ measure }) => measure);
  const sounding = soundingIn(all);
  const isAlike = (at: number, first: number): boolean => {
    const begins = order[at - 1] !== order[first - 1];
    const ends = order[at + 1] !== order[first + 1];
    const [own, other] = [sounding[at] ?? [], sounding[first] ?? []];
    return written(own, begins, ends) === written(other, begins, ends);
  };
  const { piece, played, isWrittenOut } = writtenWhereAlike(given, order, isAlike);
  const clocks = clocked(piece);
  let end = 0;
  const measures = piece.measures.map(({ section, chords }, at): FormedMeasure => {
    const own = all[played[at] ?? -1];
    const { metre, length } = clocks[at] as Clocked;
    const perQuarter = metre.unit / 4;
    const first: Omit<FormedMeasure, 'number' | 'measure'> = own ?? {
      ...{ at: end, lasts: length * perQuarter, seconds: 0, lastsSeconds: 0, metre, steps: [] },
      chords: chords.map((each) => ({ ...each, at: end + each.at * perQuarter })),
    };
    end = first.at + first.lasts;
    const { section: _each, ...plain } = first;
    return {
      ...plain,
      measure: at,
      number: (own?.measure ?? at) + 1,
      ...(section === undefined ? {} : { section }),
    };
  });
  // by place in the order of playing: the measure that stands for it
  const stands = orderOf(piece.measures, order.length).order;
  const shown = steps.map((_, index) => index);
  all.forEach(({ steps: own }, at) => {
    const there = measures[stands[at] ?? -1]?.steps ?? [];
    own.forEach(({ index }, each) => {
      shown[index] = there[each]?.index ?? index;
    });
  });
  return { piece, measures, shown, isWrittenOut };
}
