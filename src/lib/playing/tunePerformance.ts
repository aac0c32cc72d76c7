/** A tune as it is practised: a part of it, slower, counted in, round and round; and when each note is due. */
import { clocked } from '$lib/arrange/inOrder';
import type { Piece } from '$lib/arrange/piece';
import { tuneMeasures } from '$lib/arrange/tuneMeasures';
import type { TuneStep } from '$lib/arrange/tune';
import type { Setup } from '$lib/setup/setup';
import { CLICK, CLICK_LEVELS, type Due, type Performance } from './performance';
import type { ScheduledNote } from './schedule';
import { heardTune } from './tuneNotes';

export interface TunePlaying {
  readonly setup: Setup;
  readonly piece: Piece;
  readonly steps: readonly TuneStep[];
  /** First and last measure as they are written, from 1: once through from the one to the other. */
  readonly part?: readonly [number, number];
  /** Part of the tempo: 1 as it is written, 0.5 half as fast. */
  readonly speed?: number;
  /** A measure of clicks before it begins. */
  readonly countIn?: boolean;
  /** How often it is played. */
  readonly rounds?: number;
}

/**
 * Of measures in the order of playing the first that is played of a part, and the one after the last: the whole
 * of a piece has its repeats, a part of it is played once through.
 *
 * @param part first and last measure as they are written, from 1
 */
export function playedPart(
  all: readonly { readonly measure: number }[],
  [from, to]: readonly [number, number],
): readonly [number, number] {
  const isIn = ({ measure }: { readonly measure: number }): boolean =>
    measure + 1 >= from && measure + 1 <= to;
  const first = all.findIndex(isIn);
  if (first < 0) return [0, 0];
  const leaves = all.findIndex((each, at) => at > first && !isIn(each));
  return [first, leaves < 0 ? all.length : leaves];
}

/** A step at another time. */
const movedStep = <Step extends TuneStep>(step: Step, from: number, speed: number): Step => ({
  ...step,
  onset: {
    ...step.onset,
    seconds: (step.onset.seconds - from) / speed,
    lastsSeconds: step.onset.lastsSeconds / speed,
  },
});

/** All that is heard of a part of a tune, and when its steps are due, by their number among all. */
export function tunePerformance(playing: TunePlaying): Performance {
  const { setup, piece, steps, speed = 1, countIn = false, rounds = 1 } = playing;
  const [from, to] = playing.part ?? [1, piece.measures.length];
  const all = tuneMeasures(piece, steps);
  const played = all.slice(...playedPart(all, [from, to]));
  if (played.length === 0) return { notes: [], due: [], length: 0 };
  const begins = played[0]?.seconds ?? 0;
  const last = played.at(-1);
  const ends = last === undefined ? begins : last.seconds + last.lastsSeconds;
  const round = (ends - begins) / speed;

  const notes: ScheduledNote[] = [];
  let lead = 0;
  const clock = clocked(piece)[played[0]?.measure ?? 0];
  if (countIn && clock !== undefined) {
    const { metre, tempos } = clock;
    const beat = ((60 / (tempos[0]?.tempo ?? 100)) * 4) / metre.unit / speed;
    for (let each = 0; each < metre.beats; each++)
      notes.push({ ...CLICK, at: each * beat, level: CLICK_LEVELS[each === 0 ? 0 : 1] });
    lead = metre.beats * beat;
  }
  const own = played.flatMap((measure) => measure.steps);
  const once = heardTune(
    setup,
    own.map(({ step }) => movedStep(step, begins, speed)),
  );
  const due: Due[] = [];
  for (let time = 0; time < rounds; time++) {
    const at = lead + time * round;
    for (const { step, index } of own)
      due.push({ index, at: at + (step.onset.seconds - begins) / speed });
    for (const note of once) {
      const most = time === rounds - 1 ? Infinity : round - note.at;
      notes.push({
        ...note,
        at: at + note.at,
        duration: Math.min(note.duration, most),
        ...(note.glides === undefined
          ? {}
          : { glides: note.glides.map((glide) => ({ ...glide, at: at + glide.at })) }),
      });
    }
  }
  notes.sort((a, b) => a.at - b.at);
  return { notes, due, length: lead + rounds * round };
}
