/**
 * A way of chords as the steps that tunes have: what patterns of the right hand, staves and note by note
 * playing go by. The way stays what it is; these only say it in another form.
 */
import type { ArrangedStep } from './arrange';
import { inOrder } from './inOrder';
import { beatAt } from './noteWishes';
import type { Piece } from './piece';
import { pieceOf } from './pieceOf';
import { isPitch, type Progression } from './progression';
import type { ReachedString, TuneStep } from './tune';

/** What a string does that rings on into a chord. */
function rings(
  before: TuneStep | undefined,
  { hold }: ArrangedStep,
  string: number,
): 'rings' | 'pull' | 'slide' {
  const was = before?.hold.pitches[before.hold.strings.indexOf(string)];
  if (was === hold.pitches[hold.strings.indexOf(string)]) return 'rings';
  return before?.hold.fret === hold.fret ? 'pull' : 'slide';
}

/**
 * The measures of a piece in the order of playing, as far as they are the bars of a progression; the
 * progression itself where it is not of that piece.
 */
export function measuresFor(progression: Progression, piece: Piece) {
  const whole = inOrder(piece).measures;
  const more = whole.length - progression.bars.length;
  // an upbeat that is sung alone is no bar of chords
  if (more === 0 || (more === 1 && piece.measures[0]?.chords.length === 0))
    return { piece, measures: whole.slice(more) };
  const own = pieceOf(progression);
  return { piece: own, measures: inOrder(own).measures };
}

/** Steps of chords, and the piece in whose measures they lie. */
export interface ChordSteps {
  readonly piece: Piece;
  readonly steps: readonly TuneStep[];
}

/**
 * Every chord of a way as a step.
 *
 * @param held by step: the strings, from 1, that ring on into it
 */
export function chordSteps(
  progression: Progression,
  arranged: readonly ArrangedStep[],
  held: readonly (readonly number[])[],
  given: Piece = pieceOf(progression),
): ChordSteps {
  const { piece, measures } = measuresFor(progression, given);
  let before: TuneStep | undefined;
  const steps = arranged.flatMap((each, at): TuneStep[] => {
    const { step, chord, tones, hold, way, stays, effort, move } = each;
    const measure = measures[step.bar];
    const bar = progression.bars[step.bar];
    if (measure === undefined || bar === undefined) return [];
    const parts = bar.slots.reduce((sum, { share }) => sum + share, 0);
    const from = bar.slots.slice(0, step.slot).reduce((sum, { share }) => sum + share, 0) / parts;
    const long = step.share / parts;
    const { melody } = step;
    const sung = melody !== undefined && isPitch(melody) ? melody : undefined;
    const top = hold.pitches.indexOf(Math.max(...hold.pitches));
    const own = held[at] ?? [];
    const strings = hold.strings.map((string, order): ReachedString => ({
      string,
      pitch: hold.pitches[order] as number,
      reached: own.includes(string) ? rings(before, each, string) : 'picked',
      melody: order === top && sung?.midi === hold.pitches[order],
    }));
    const now: TuneStep = {
      onset: {
        at: measure.at + from * measure.lasts,
        lasts: long * measure.lasts,
        seconds: measure.seconds + from * measure.lastsSeconds,
        lastsSeconds: long * measure.lastsSeconds,
        measure: measure.measure,
        beat: beatAt(from * measure.lasts),
        texture: 'chords',
        ...(sung === undefined ? {} : { melody: sung }),
        melodyLasts: false,
        chord,
        asChord: true,
        between: false,
        slurred: false,
      },
      ...{ hold, way, stays, strings, tones, effort, move },
    };
    before = now;
    return [now];
  });
  return { piece, steps };
}
