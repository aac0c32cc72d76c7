/** Renders a schedule without a sound card, many times faster than it sounds. Pure. */
import type { BandNote } from '$lib/playing/band/band';
import { actionsOf, type Action, type Expression } from './actions';
import { renderBand } from './renderBand';
import { PlayedInstrument, STEP } from './dsp/playedInstrument';
import { lengthOf, type ScheduledNote } from '$lib/playing/schedule';

export interface Sound {
  readonly sampleRate: number;
  readonly left: Float32Array;
  readonly right: Float32Array;
}

export interface Rendering extends Expression {
  readonly sampleRate?: number;
  /** Seconds that the room is heard after the last string is damped; 1 where left out. */
  readonly tail?: number;
  /** What a rhythm section plays beside the strings. */
  readonly band?: readonly BandNote[];
}

const TAIL = 1;

/** Seconds of the longest sound that is rendered: more would fill the memory of a small device. */
const MOST_SECONDS = 1200;

/** Why notes are not rendered, as a sentence; `undefined` where they may be. */
export function refusedUnrendered(notes: readonly ScheduledNote[]): string | undefined {
  const minutes = lengthOf(notes) / 60;
  return minutes > MOST_SECONDS / 60
    ? `It would sound for ${Math.ceil(minutes)} minutes; allowed are ${MOST_SECONDS / 60}.`
    : undefined;
}

/** The sound of notes, from the first stroke until the room is still. */
export function renderNotes(notes: readonly ScheduledNote[], how: Rendering): Sound {
  const { band = [], referenceHz, sampleRate = 48_000, tail = TAIL } = how;
  const ends = Math.max(lengthOf(notes), ...band.map(({ at, lasts }) => at + lasts));
  const samples = Math.ceil(((ends + tail) * sampleRate) / STEP) * STEP;
  const beside =
    band.length === 0 ? undefined : renderBand(band, { referenceHz, sampleRate, samples });
  return renderActions(actionsOf(notes, how), samples, sampleRate, beside);
}

/** The sound of actions, for a number of samples; what sounds beside them goes through the same limiter. */
function renderActions(
  actions: readonly Action[],
  samples: number,
  sampleRate: number,
  beside: Float32Array | undefined,
): Sound {
  const instrument = new PlayedInstrument(sampleRate);
  instrument.play(actions);
  const left = new Float32Array(samples);
  const right = new Float32Array(samples);
  instrument.process(left, right, 0, beside && [beside]);
  return { sampleRate, left, right };
}
