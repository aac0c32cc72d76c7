/**
 * An arrangement as it is to be written: a part that is played alike each time stands there once with its
 * repeat, and what is played otherwise is written out. Arrangements are of pieces unrolled.
 */
import type { ArrangedStep } from '$lib/arrange/arrange';
import { orderOf } from '$lib/arrange/inOrder';
import type { Piece } from '$lib/arrange/piece';
import { asWritten, pieceOf } from '$lib/arrange/pieceOf';
import { stepsOf, type Progression } from '$lib/arrange/progression';
import { writtenOut } from '$lib/arrange/writtenOut';
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
  /** By measure: it is played at all. */
  readonly isPlayed: readonly boolean[];
  /** A part that the piece repeats is written out, because it is not played alike each time. */
  readonly isWrittenOut: boolean;
}

/** The piece of a progression, where that is really it; an upbeat without a chord is not played. */
function agreeing(
  progression: Progression,
  piece: Piece | undefined,
): { piece: Piece; order: readonly number[]; skipped: number } | undefined {
  if (piece === undefined) return undefined;
  const { order } = orderOf(piece.measures);
  const skipped = order.length - progression.bars.length;
  if (skipped !== 0 && !(skipped === 1 && piece.measures[0]?.chords.length === 0)) return undefined;
  const { bars } = asWritten(piece);
  const agrees = progression.bars.every(
    ({ slots }, at) => bars[order[at + skipped] ?? -1]?.slots.length === slots.length,
  );
  return agrees ? { piece, order, skipped } : undefined;
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
  const { piece, order, skipped } = agreeing(progression, given) ?? {
    piece: pieceOf(progression),
    order: [...progression.bars.keys()],
    skipped: 0,
  };
  const played = new Map(arranged.map((step, at) => [step.index, { step, at }]));
  const all = stepsOf(progression);
  /** By bar of the progression: the indexes of its steps. */
  const within: number[][] = progression.bars.map(() => []);
  all.forEach(({ bar }, index) => within[bar]?.push(index));
  const ways = within.map((indexes) => wayOf(indexes.map((index) => played.get(index)?.step)));

  /** Measures that are not played alike wherever they are, by where in the order that is found. */
  const first = new Map<number, number>();
  const differing = order.flatMap((measure, at) => {
    const other = first.get(measure);
    if (other === undefined) first.set(measure, at);
    const differs = other !== undefined && ways[at - skipped] !== ways[other - skipped];
    return differs ? [{ measure, at }] : [];
  });
  const leaves = order.findIndex(
    (measure, at) =>
      piece.measures[measure]?.jump !== undefined &&
      at + 1 < order.length &&
      order[at + 1] !== measure + 1,
  );
  const written = writtenOut(piece, {
    jump: differing.some(({ at }) => leaves >= 0 && at > leaves),
    part: (from, to) => differing.some(({ measure }) => measure >= from && measure <= to),
  });
  const bars = written.played.map((at) =>
    at === undefined || at < skipped ? undefined : at - skipped,
  );
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
  return {
    piece: written.piece,
    progression: {
      ...shown,
      ...(progression.tempos === undefined ? {} : { tempos: progression.tempos }),
    },
    steps,
    isPlayed: bars.map((bar) => bar !== undefined),
    isWrittenOut: differing.length > 0,
  };
}
