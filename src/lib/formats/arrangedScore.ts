/** A way through a progression as the chords of a score. */
import type { ArrangedStep } from '$lib/arrange/arrange';
import { clockOf, stepsOf, type Progression } from '$lib/arrange/progression';
import { strokesOf } from '$lib/playing/strokes';
import type { Setup } from '$lib/setup/setup';
import type { PlayedStep } from './write/musicXmlNotes';
import type { Marker } from './write/midi';

/** Every chord that is played. */
export function playedSteps(
  setup: Setup,
  progression: Progression,
  steps: readonly ArrangedStep[],
): PlayedStep[] {
  const strokes = strokesOf(setup, progression, steps);
  return steps.map(({ index, tones, voicing, way }, at) => ({
    index,
    tones,
    neck: voicing.neck,
    strings: voicing.strings,
    frets: voicing.frets,
    pitches: voicing.pitches,
    engaged: way,
    held: strokes[at]?.held ?? [],
    again: strokes[at]?.again ?? [],
  }));
}

/** Sections and chord symbols by when they are due. */
export function markersOf(progression: Progression): Marker[] {
  const clock = clockOf(progression);
  return stepsOf(progression).map(({ chord, start, slot, bar: number }): Marker => {
    const section = slot === 0 ? progression.bars[number]?.section : undefined;
    const symbol = chord === 'no chord' ? 'N.C.' : chord.symbol;
    return { at: clock(start), text: section === undefined ? symbol : `${section}: ${symbol}` };
  });
}
