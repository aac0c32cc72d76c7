/** An arrangement as the chords of a score. */
import { clocked, orderOf } from '$lib/arrange/inOrder';
import { metreOfPart } from '$lib/arrange/fractions';
import {
  clockOf,
  quartersOf,
  stepsOf,
  type Metre,
  type Progression,
} from '$lib/arrange/progression';
import type { ArrangedForm } from './arrangedForm';
import type { PlayedStep } from './write/musicXmlNotes';
import type { Marker } from './write/midi';

/** Every chord that is played, by its index in the form. */
export function playedSteps({ steps }: ArrangedForm): PlayedStep[] {
  return [...steps].map(([index, { arranged, strokes }]) => ({
    index,
    tones: arranged.tones,
    neck: arranged.voicing.neck,
    strings: arranged.voicing.strings,
    frets: arranged.voicing.frets,
    pitches: arranged.voicing.pitches,
    engaged: arranged.way,
    held: strokes.held,
    again: strokes.again,
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

/** Metres as they come, by their places in quarter notes; what is no whole measure has one of its own. */
export function metresOf({ piece, isPlayed }: ArrangedForm): { at: number; metre: Metre }[] {
  const clocks = clocked(piece);
  const metres: { at: number; metre: Metre }[] = [];
  let at = 0;
  for (const measure of orderOf(piece.measures).order) {
    const clock = clocks[measure];
    if (clock === undefined || isPlayed[measure] !== true) continue;
    const { metre: held, length } = clock;
    const metre = metreOfPart(held, length / quartersOf(held));
    const before = metres.at(-1)?.metre;
    if (before?.beats !== metre.beats || before.unit !== metre.unit) metres.push({ at, metre });
    at += length;
  }
  return metres;
}
