/** Renders a schedule without a sound card, many times faster than it sounds. Pure. */
import { actionsOf, type Action, type Expression } from './actions';
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
export const renderNotes = (notes: readonly ScheduledNote[], how: Rendering): Sound =>
  renderActions(actionsOf(notes, how), lengthOf(notes) + (how.tail ?? TAIL), how.sampleRate);

/** The sound of actions, for a number of seconds. */
function renderActions(actions: readonly Action[], seconds: number, sampleRate = 48_000): Sound {
  const instrument = new PlayedInstrument(sampleRate);
  instrument.play(actions);
  const samples = Math.ceil((seconds * sampleRate) / STEP) * STEP;
  const left = new Float32Array(samples);
  const right = new Float32Array(samples);
  instrument.process(left, right, 0);
  return { sampleRate, left, right };
}
