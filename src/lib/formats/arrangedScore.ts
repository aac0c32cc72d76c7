/** A way through a progression as the chords of a score, and as the notes that are played. */
import type { ArrangedStep, ArrangedWay } from '$lib/arrange/arrange';
import { barSeconds, stepsOf, type Progression } from '$lib/arrange/progression';
import { performanceOf } from '$lib/playing/performance';
import type { ScheduledNote } from '$lib/playing/schedule';
import { strokesOf } from '$lib/playing/strokes';
import type { Setup } from '$lib/setup/setup';
import { heardPitches } from '$lib/tuning/heard';
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

/** Whose way it is, and through what. */
interface Arranged {
  readonly setup: Setup;
  readonly progression: Progression;
  readonly way: ArrangedWay;
}

/** What is played as it is written: in equal temperament, a chord's strings at once; in seconds. */
export const writtenNotes = ({
  setup,
  progression,
  way: { steps },
}: Arranged): readonly ScheduledNote[] =>
  performanceOf({
    ...{ setup, progression, steps, apart: 0 },
    pitchesOf: ({ hold }) =>
      hold.strings.map((string, at) => ({ string, midi: hold.pitches[at] ?? 0 })),
  }).notes;

/** What is heard of it: as the setup is tuned and the strings of a chord are struck, from its first beat. */
export const heardNotes = ({
  setup,
  progression,
  way: { steps },
}: Arranged): readonly ScheduledNote[] =>
  performanceOf({
    ...{ setup, progression, steps },
    pitchesOf: ({ hold }) => heardPitches(setup, hold),
  }).notes;

/** Sections and chord symbols by when they are due. */
export function markersOf(progression: Progression): Marker[] {
  const bar = barSeconds(progression);
  return stepsOf(progression).map(({ chord, start, slot, bar: number }): Marker => {
    const section = slot === 0 ? progression.bars[number]?.section : undefined;
    const symbol = chord === 'no chord' ? 'N.C.' : chord.symbol;
    return { at: start * bar, text: section === undefined ? symbol : `${section}: ${symbol}` };
  });
}
