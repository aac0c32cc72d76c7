/**
 * Patterns of the right hand as they are rendered: when they sound, how loud and at which pitches, measured as a
 * listener would (`tests/listening/ear.ts`). Times are worked out by hand: a beat is half a second.
 */
import { describe, expect, it } from 'vitest';
import { arrangeTune } from '$lib/arrange/tune';
import { struckSteps } from '$lib/arrange/strike';
import type { Strike } from '$lib/arrange/strikeNames';
import { noWishes } from '$lib/arrange/wishes';
import { heardTune } from '$lib/playing/tuneNotes';
import { renderNotes } from '$lib/rendering/renderSound';
import { builtIn } from '$lib/setup/builtIns';
import { amplitudeOf, dbOf, rmsOf, wanted } from '../../listening/ear';
import { tuneOf } from '../arrange/ownTunes';

const E9 = builtIn('e9');
const CHORDS = { texture: 'chords', harmony: 'changes', measures: [] } as const;
const WISHES = { ...noWishes(false), frets: [5, 5] as const };

/** A measure of one chord under the bar at fret 5: A with nothing engaged, D with A and B. */
function rendered(chord: 'A' | 'D', strike: Strike) {
  const piece = tuneOf({ key: 'A', metre: [4, 4], tempo: 120 }, [[chord, '-:4']]);
  const solved = arrangeTune(E9, piece, CHORDS, WISHES, 1).ways[0]?.steps ?? [];
  const struck = struckSteps(E9, piece, solved, { strike, parts: [] });
  const { left, sampleRate } = renderNotes(heardTune(E9, struck), { referenceHz: 440 });
  return {
    pitches: [...(solved[0]?.hold.pitches ?? [])].sort((a, b) => a - b),
    /** Decibels between two times. */
    level: (from: number, to: number) => dbOf(Math.max(1e-9, rmsOf(left, sampleRate, from, to))),
    /** Decibels of a pitch in 43 ms from a time on. */
    loud: (midi: number, at: number) =>
      dbOf(Math.max(1e-9, amplitudeOf(left, sampleRate, wanted(midi), at, 2048))),
  };
}
const SILENT = -60;

describe('a chord of four beats', () => {
  const whole = rendered('A', 'whole');

  it('sounds whole at once, and stays as loud', () => {
    expect(whole.pitches.length).toBeGreaterThanOrEqual(3);
    for (const pitch of whole.pitches)
      expect(Math.abs(whole.loud(pitch, 0) - whole.loud(pitch, 0.6))).toBeLessThan(4);
    expect(Math.abs(whole.level(0.1, 0.2) - whole.level(1.8, 1.9))).toBeLessThan(3);
  });

  it('is rolled from the lowest string up, one heard after another', () => {
    const { pitches, loud } = rendered('A', 'rolled');
    const [low = 0, middle = 0, high = 0] = pitches;
    expect(loud(low, 0)).toBeGreaterThan(-40);
    expect([loud(middle, 0), loud(high, 0)].every((each) => each < SILENT)).toBe(true);
    expect(loud(middle, 0.1)).toBeGreaterThan(-40);
    expect(loud(high, 0.1)).toBeLessThan(SILENT);
    expect(loud(high, 0.25)).toBeGreaterThan(-40);
  });

  it('is struck again on each beat, with a breath before', () => {
    const { level } = rendered('A', 'beats');
    for (const beat of [0.5, 1, 1.5])
      expect(level(beat + 0.02, beat + 0.1) - level(beat - 0.012, beat - 0.002)).toBeGreaterThan(3);
    // the whole one has none
    expect(whole.level(0.52, 0.6) - whole.level(0.488, 0.498)).toBeLessThan(2);
  });

  it('is chopped on the second and the fourth beat alone, and short', () => {
    const { level } = rendered('A', 'chop');
    expect(level(0, 0.49)).toBeLessThan(SILENT);
    for (const beat of [0.5, 1.5]) {
      expect(level(beat + 0.02, beat + 0.15)).toBeGreaterThan(-25);
      // 20 dB down within the beat
      expect(level(beat + 0.02, beat + 0.15) - level(beat + 0.35, beat + 0.48)).toBeGreaterThan(20);
    }
  });

  it('comes half a beat late', () => {
    const { level } = rendered('A', 'late');
    expect(level(0, 0.24)).toBeLessThan(SILENT);
    expect(level(0.27, 0.4)).toBeGreaterThan(-25);
  });

  it('is bent into: struck as the strings are, and a quarter of a second later where it belongs', () => {
    const { pitches, loud, level } = rendered('D', 'bend');
    // pedals A and B take 5 and 3 up, by two semitones and by one: common practice of the trade
    const [plain] = [rendered('A', 'whole').pitches];
    const moved = pitches.filter((pitch) => !plain.includes(pitch));
    expect(moved.length).toBeGreaterThanOrEqual(2);
    for (const pitch of moved) {
      const from = plain.find((each) => pitch - each === 1 || pitch - each === 2) ?? NaN;
      expect(loud(from, 0.05) - loud(pitch, 0.05)).toBeGreaterThan(12);
      expect(loud(pitch, 0.4) - loud(from, 0.4)).toBeGreaterThan(12);
    }
    // one stroke: it is not struck again when it arrives
    expect(Math.abs(level(0.15, 0.2) - level(0.3, 0.35))).toBeLessThan(3);
  });

  it('as a pad begins at least 9 dB softer than a stroke, and swells by 7 within half of its time', () => {
    const pad = rendered('A', 'pad');
    expect(whole.level(0, 0.1) - pad.level(0, 0.1)).toBeGreaterThan(9);
    const rising = [0.1, 0.3, 0.5, 0.7, 0.9].map((at) => pad.level(at, at + 0.1));
    expect(rising).toEqual([...rising].sort((a, b) => a - b));
    expect(pad.level(1.2, 1.6) - pad.level(0, 0.1)).toBeGreaterThan(7);
    expect(pad.level(1.2, 1.6)).toBeLessThan(whole.level(1.2, 1.6));
  });
});
