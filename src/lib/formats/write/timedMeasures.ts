/** How the measures of a piece are numbered and timed where they are written. */
import { metreOfPart } from '$lib/arrange/fractions';
import { SAME_PLACE, type Piece } from '$lib/arrange/piece';
import { lengthsOf } from '$lib/arrange/pieceOf';
import { DEFAULT_METRE, quartersOf, type Metre } from '$lib/arrange/progression';

/** How a measure is numbered and timed. */
export interface Timed {
  readonly number: string;
  /** It is no whole measure of its metre: a pickup, or what completes one. */
  readonly isPartial: boolean;
  /** The metre that holds from here on, where it is another than before. */
  readonly metre: Metre | undefined;
  /** In quarter notes. */
  readonly length: number;
}

/** Every measure's number, metre and length; pickups are not counted. */
export function timedMeasures(piece: Piece): Timed[] {
  const { measures, metre = DEFAULT_METRE } = piece;
  const lengths = lengthsOf(piece);
  let held = metre;
  let shown = metre;
  let number = 0;
  return measures.map((measure, at): Timed => {
    held = measure.metre ?? held;
    const length = lengths[at] as number;
    const next = measures[at + 1];
    const isShort = length < quartersOf(held) - SAME_PLACE;
    // what completes a pickup stands before a repeat, or at the end
    const isEdge =
      at === 0 || next === undefined || measure.times !== undefined || next.repeats === true;
    const isPartial = isShort && isEdge;
    const own =
      isPartial || measure.lasts === undefined
        ? held
        : metreOfPart(held, length / quartersOf(held));
    const changes = own.beats !== shown.beats || own.unit !== shown.unit;
    shown = own;
    if (!(at === 0 && isPartial)) number++;
    return {
      number: String(number),
      isPartial,
      metre: changes ? own : undefined,
      length,
    };
  });
}
