/** A traditional tune as it is rendered: its pitches and its level over time, measured as a listener would. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { arrangeTune } from '$lib/arrange/tune';
import { noWishes } from '$lib/arrange/wishes';
import { readAbc } from '$lib/formats/read/abc';
import { heardTune } from '$lib/playing/tuneNotes';
import { renderNotes } from '$lib/rendering/renderSound';
import { TRADITIONAL } from '../unit/arrange/traditional';
import { centsBetween, dbOf, hzAt, rmsOf, wanted } from './ear';

const E9 = builtIn('e9');
/** With 12 cents for the setup's own targets, and 8 for a string that still moves. */
const MOST_CENTS = 20;

describe.each(['Amazing Grace', 'Red River Valley'])('%s as a line', (name) => {
  const read = readAbc(TRADITIONAL[name] ?? '');
  const piece = read.ok ? read.value.piece : undefined;
  if (piece === undefined) throw new Error(name);
  const line = { texture: 'line', harmony: 'changes', measures: [] } as const;
  const steps = (arrangeTune(E9, piece, line, noWishes(false), 1).ways[0]?.steps ?? []).slice(
    0,
    12,
  );

  it('sounds at the pitches of the tune, as loud all through as a player holds it', () => {
    const { left, sampleRate } = renderNotes(heardTune(E9, steps), { referenceHz: 440 });
    const levels: number[] = [];
    for (const { onset } of steps) {
      const at = onset.seconds + onset.lastsSeconds / 2;
      const hz = hzAt(left, sampleRate, at, 4096);
      const off = centsBetween(hz, wanted(onset.melody?.midi ?? 0));
      expect(Math.abs(off), `at ${onset.seconds.toFixed(2)} s`).toBeLessThan(MOST_CENTS);
      levels.push(
        dbOf(rmsOf(left, sampleRate, at, Math.min(at + 0.1, onset.seconds + onset.lastsSeconds))),
      );
    }
    // the evenness that arrangements are held to
    expect(Math.max(...levels) - Math.min(...levels)).toBeLessThan(12);
  });
});
