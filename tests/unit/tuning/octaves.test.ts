/**
 * Octaves and like notes by their beats: of two strings an octave apart the second partial of the lower
 * meets the first of the higher, and beats |2·f(low) − f(high)| times a second (of two octaves
 * |4·f(low) − f(high)|, of a unison |f − f|).
 */
import { describe, expect, it } from 'vitest';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { tune } from '$lib/tuning/tune';

/** One beat in twenty seconds: nobody hears it. */
const MOST_BEATS = 0.05;

describe.each(BUILT_IN_IDS)('%s', (id) => {
  const setup = builtIn(id);
  it.each(['just', 'fitted'] as const)(
    'by %s has no beating octave among open strings, nor among those that one control pulls',
    (method) => {
      setup.necks.forEach((_, index) => {
        const { targets } = tune(setup, index + 1, { method });
        let pairs = 0;
        for (const low of targets)
          for (const high of targets) {
            const octaves = (high.midi - low.midi) / 12;
            if (low === high || octaves < 0 || !Number.isInteger(octaves)) continue;
            if (low.control !== high.control || low.state !== high.state) continue;
            pairs++;
            const beats = Math.abs(2 ** octaves * low.hz - high.hz);
            expect(beats, `strings ${low.string} and ${high.string} ${low.control}`).toBeLessThan(
              MOST_BEATS,
            );
          }
        expect(pairs).toBeGreaterThan(0);
      });
    },
  );
});

it('what that costs is told: chords fit a little better were octaves let go', () => {
  const made = tune(builtIn('e9'), 1, { method: 'fitted' });
  const apart = made.residualApart ?? NaN;
  expect(apart).toBeLessThan(made.residualAfter);
  expect(made.residualAfter - apart).toBeLessThan(1);
  expect(tune(builtIn('e9'), 1, { method: 'equal' }).residualApart).toBeUndefined();
});
