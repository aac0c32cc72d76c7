/** Phrases and a ladder as they are rendered: pitch and level over time, measured as a listener would. */
import { describe, expect, it } from 'vitest';
import { readScale } from '$lib/theory/scales';
import { parseKey } from '$lib/theory/spelling';
import { builtIn } from '$lib/setup/builtIns';
import { placePhrase } from '$lib/answers/phrases';
import type { TuneStep } from '$lib/arrange/tune';
import { heardTune } from '$lib/playing/tuneNotes';
import { renderNotes } from '$lib/rendering/renderSound';
import { ladder } from '$lib/scales/ladders';
import { notesIn } from '$lib/phrases/placed';
import type { Setup } from '$lib/setup/setup';
import { amplitudeOf, dbOf, peakOf, rmsOf, wanted } from './ear';

const E9 = builtIn('e9');
/** With 12 cents for the setup's own targets, and 8 for a string that still moves. */
const MOST_CENTS = 20;
/** As even as a tune is held. */
const MOST_DB = 12;

/** Cents by which the strongest tone near a pitch is off it, looked for within a quarter tone. */
function centsOff(sound: Float32Array, rate: number, midi: number, at: number): number {
  let best = { off: 0, amplitude: 0 };
  for (let off = -50; off <= 50; off += 2) {
    const amplitude = amplitudeOf(sound, rate, wanted(midi) * 2 ** (off / 1200), at, 8192);
    if (amplitude > best.amplitude) best = { off, amplitude };
  }
  return best.off;
}

/** Renders steps, and measures each in its middle. */
function measured(setup: Setup, steps: readonly TuneStep[]) {
  const { left, sampleRate } = renderNotes(heardTune(setup, steps), { referenceHz: 440 });
  const levels: number[] = [];
  const cents: number[] = [];
  for (const { onset, hold } of steps) {
    const at = onset.seconds + onset.lastsSeconds / 2;
    const until = Math.min(at + 0.1, onset.seconds + onset.lastsSeconds);
    levels.push(dbOf(rmsOf(left, sampleRate, at, until)));
    for (const midi of hold.pitches) cents.push(centsOff(left, sampleRate, midi, at));
  }
  return {
    most: Math.max(...cents.map(Math.abs)),
    range: Math.max(...levels) - Math.min(...levels),
    peak: peakOf(left),
  };
}

/** Sixths of C major, below the rung that splits a string: no stop of its own sets that. */
const rungs = (): readonly TuneStep[] => {
  const scale = readScale('C major');
  const field = { neck: 1, frets: [0, 11] as const, strings: [3, 5], slants: false };
  const found = scale.ok
    ? ladder(E9, scale.value, { ...field, interval: 'sixths', way: 'up' })
    : undefined;
  return (found?.rungs ?? []).map(({ step }) => step);
};

/** A phrase in G: its steps, and its notes as they are written. */
function phrase(setup: Setup, id: string) {
  const key = parseKey('G');
  const found = key && placePhrase(setup, id, key);
  return {
    steps: found?.arrangement.ways[0]?.steps ?? [],
    written: found === undefined ? [] : notesIn(found.piece).map(({ midi }) => midi),
  };
}

function expectHeard(name: string, setup: Setup, steps: readonly TuneStep[]): void {
  expect(steps.length).toBeGreaterThanOrEqual(3);
  const { most, range, peak } = measured(setup, steps);
  console.log(
    `${name}: ${most} cents at most, ${range.toFixed(1)} dB between loudest and softest, peak ${peak.toFixed(2)}`,
  );
  expect(most).toBeLessThanOrEqual(MOST_CENTS);
  expect(range).toBeLessThan(MOST_DB);
  expect(peak).toBeLessThan(1);
}

describe('rendered', () => {
  it('a ladder in sixths sounds at its pitches, evenly, and below the limit', () => {
    expectHeard('a ladder in sixths', E9, rungs());
  });

  it.each([
    ['rise-in-thirds', 'e9'],
    ['stroll-in-sixths', 'e9'],
    ['there-and-back', 'e9'],
    ['stroll-in-sixths', 'c6'],
    ['there-and-back', 'c6'],
    ['rise-in-thirds', 'lap6-c6'],
    ['there-and-back', 'lap6-c6'],
  ] as const)('%s on %s sounds as it is written, evenly, and below the limit', (name, id) => {
    const setup = builtIn(id);
    const { steps, written } = phrase(setup, name);
    const sung = steps.filter(({ onset }) => !onset.melodyLasts && onset.melody !== undefined);
    expect(sung.map(({ onset }) => onset.melody?.midi)).toEqual(written);
    for (const { hold, onset } of sung) expect(Math.max(...hold.pitches)).toBe(onset.melody?.midi);
    expectHeard(`${name} on ${id}`, setup, steps);
  });
});
