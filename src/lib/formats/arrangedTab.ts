/** An arrangement as a piece of tablature. */
import type { ArrangedWay } from '$lib/arrange/arrange';
import type { Measure, Piece } from '$lib/arrange/piece';
import { lengthsOf } from '$lib/arrange/pieceOf';
import { sungBetween } from '$lib/arrange/sung';
import { quartersOf, stepsOf, type Metre, type Progression } from '$lib/arrange/progression';
import type { Setup } from '$lib/setup/setup';
import { formOf, type ArrangedForm } from './arrangedForm';
import { WRITTEN_OUT, afterOf, beforeOf } from './tabForm';
import type { TabPiece, TabStep } from './tablature';
import { timedMeasures, type Timed } from './write/timedMeasures';

/** The metre that is told at a measure: where it changes, and at the beginning where it is not common time. */
function metreAt(
  { metre }: Timed,
  at: number,
  own: Metre | undefined,
  changes: boolean,
): Metre | undefined {
  if (metre !== undefined || at > 0) return metre;
  const isCommon = own === undefined || (own.beats === 4 && own.unit === 4);
  return isCommon && !changes ? undefined : own;
}

/**
 * Every slot in order, those that are not played as rests. With its piece, what is played alike each time
 * stands there once, with its repeats.
 */
export function tabPieceOf(
  setup: Setup,
  progression: Progression,
  way: ArrangedWay,
  piece?: Piece,
): TabPiece {
  const form = formOf(setup, progression, way.steps, piece);
  return {
    title: progression.title ?? '',
    setup,
    steps: tabSteps(form),
    ...(form.isWrittenOut ? { remark: WRITTEN_OUT } : {}),
  };
}

function tabSteps({ piece, progression, steps, heard, isPlayed }: ArrangedForm): TabStep[] {
  const { measures } = piece;
  const { metre = { beats: 4, unit: 4 } } = progression;
  const timed = timedMeasures(piece);
  const lengths = lengthsOf(piece);
  const changes = timed.some((each) => each.metre !== undefined);
  const whole = quartersOf(metre);
  let begins = 0;
  let now = -1;
  /** The numbers of the measures that are counted. */
  const shown = new Map<number, number>();
  return stepsOf(progression).flatMap(({ chord, bar, slot, start, length }, index): TabStep[] => {
    if (bar !== now) [begins, now] = [start, bar];
    const measure = measures[bar] as Measure;
    // an upbeat that is sung alone stands there for its words
    const isSung = bar === 0 && sungBetween(measure, 0, Infinity).length > 0;
    if (isPlayed[bar] !== true && !isSung) return [];
    const isFirst = slot === 0;
    const isLast = slot === (progression.bars[bar]?.slots.length ?? 0) - 1;
    const from = (start - begins) * whole;
    const to = isLast ? (lengths[bar] ?? Infinity) : from + length * whole;
    const before = beforeOf(
      measure,
      measures[bar - 1],
      metreAt(timed[bar] as Timed, bar, piece.metre, changes),
    );
    const after = afterOf(measure, measures[bar + 1]);
    const words = sungBetween(measure, from, to);
    const own = steps.get(index);
    const isPickup = bar === 0 && timed[0]?.isPartial === true;
    if (!isPickup && !shown.has(bar)) shown.set(bar, shown.size + 1);
    return [
      {
        chord: chord === 'no chord' ? 'N.C.' : chord.symbol,
        bar: bar + 1,
        ...(isPlayed[bar] === true ? {} : { unnamed: true as const }),
        number: isPickup ? '' : String(shown.get(bar)),
        beats: (length * whole * metre.unit) / 4,
        ...(measure.section === undefined || !isFirst ? {} : { section: measure.section }),
        ...(isFirst ? { before } : {}),
        ...(isLast ? { after } : {}),
        ...(words.length === 0 ? {} : { words }),
        heard: heard.get(index) ?? [],
        ...(own === undefined
          ? {}
          : {
              voicing: {
                neck: own.arranged.hold.neck,
                strings: own.arranged.voicing.strings,
                frets: own.arranged.voicing.frets,
                engaged: own.arranged.way,
              },
              held: own.strokes.held,
              again: own.strokes.again,
            }),
      },
    ];
  });
}
