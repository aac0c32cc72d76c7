/**
 * An arrangement as it is to be written: a part that is played alike each time stands there once with its
 * repeat, and what is played otherwise is written out. Arrangements are of pieces unrolled.
 */
import type { ArrangedStep } from '$lib/arrange/arrange';
import { orderOf } from '$lib/arrange/inOrder';
import { agreeing } from '$lib/arrange/passes';
import type { Piece } from '$lib/arrange/piece';
import { asWritten, pieceOf } from '$lib/arrange/pieceOf';
import { stepsOf, type Progression } from '$lib/arrange/progression';
import { writtenWhereAlike } from '$lib/arrange/writtenOut';
import { strokesOf, type Strokes } from '$lib/playing/strokes';
import type { Setup } from '$lib/setup/setup';

/** One chord as it is written, and how it is played; nothing where it is not. */
export interface FormedStep {
  readonly arranged: ArrangedStep;
  readonly strokes: Strokes;
}

export interface ArrangedForm {
  /** The measures as they are written. */
  readonly piece: Piece;
  /** Those measures in a row as bars with their chords. */
  readonly progression: Progression;
  /** By the step's index among all of that progression. */
  readonly steps: ReadonlyMap<number, FormedStep>;
  /** By the same: the steps of the progression that is played that it stands for, each time. */
  readonly heard: ReadonlyMap<number, readonly number[]>;
  /** By measure: it is played at all. */
  readonly isPlayed: readonly boolean[];
  /** A part that the piece repeats is written out, because it is not played alike each time. */
  readonly isWrittenOut: boolean;
}

/** How a bar is played, for a comparison. */
const wayOf = (steps: readonly (ArrangedStep | undefined)[]): string =>
  JSON.stringify(
    steps.map(
      (step) => step && [step.hold.neck, step.voicing.strings, step.voicing.frets, step.way],
    ),
  );

/** The arrangement with the form of its piece, as far as it is played alike each time. */
export function formOf(
  setup: Setup,
  progression: Progression,
  arranged: readonly ArrangedStep[],
  given?: Piece,
): ArrangedForm {
  const unrolled = [...progression.bars.keys()];
  const {
    piece,
    order,
    bars: barAt,
  } = agreeing(progression, given) ?? {
    piece: pieceOf(progression),
    order: unrolled,
    bars: unrolled,
  };
  const played = new Map(arranged.map((step, at) => [step.index, { step, at }]));
  const all = stepsOf(progression);
  /** By bar of the progression: the indexes of its steps. */
  const within: number[][] = progression.bars.map(() => []);
  all.forEach(({ bar }, index) => within[bar]?.push(index));
  const ways = within.map((indexes) => wayOf(indexes.map((index) => played.get(index)?.step)));

  const written = writtenWhereAlike(
    piece,
    order,
    (at, first) => ways[barAt[at] ?? -1] === ways[barAt[first] ?? -1],
  );
  const bars = written.played.map((at) => (at === undefined ? undefined : barAt[at]));
  const shown = asWritten(written.piece);
  const strokes = strokesOf(setup, progression, arranged);
  const steps = new Map<number, FormedStep>();
  let index = 0;
  let before: number | undefined;
  shown.bars.forEach(({ slots }, measure) => {
    const own = bars[measure];
    slots.forEach((_, slot) => {
      const from = own === undefined ? undefined : within[own]?.[slot];
      const step = from === undefined ? undefined : played.get(from);
      // what stands before it is what is played before it
      const follows = from !== undefined && before === from - 1;
      if (step !== undefined) {
        const { held, again } = strokes[step.at] ?? { held: [], again: [] };
        steps.set(index, {
          arranged: step.step,
          strokes: { held: follows ? held : [], again },
        });
      }
      before = from;
      index++;
    });
  });
  const begins: number[] = [];
  shown.bars.reduce((from, { slots }) => (begins.push(from), from + slots.length), 0);
  const heard = new Map<number, number[]>();
  orderOf(written.piece.measures, order.length).order.forEach((measure, at) =>
    within[barAt[at] ?? -1]?.forEach((index, slot) => {
      const stands = (begins[measure] ?? 0) + slot;
      heard.set(stands, [...(heard.get(stands) ?? []), index]);
    }),
  );
  return {
    heard,
    piece: written.piece,
    progression: {
      ...shown,
      ...(progression.tempos === undefined ? {} : { tempos: progression.tempos }),
    },
    steps,
    isPlayed: bars.map((bar) => bar !== undefined),
    isWrittenOut: written.isWrittenOut,
  };
}
