/** What holds of any setup and any song: a lever more takes nothing away, and no short way changes a figure. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { readProgression } from '$lib/arrange/readText';
import { figuresWith } from '$lib/coverage/songPulls';
import { songFigures, type Song } from '$lib/coverage/songs';
import { withControl } from '$lib/setup/proposal';
import { isPedal, STATIONS } from '$lib/setup/setup';
import { runs } from '../battery';
import { smallSetup } from './generators';

const song = fc
  .array(fc.constantFrom('C', 'F', 'G7', 'Am', 'Dm7', 'D', 'Bb', 'Em'), {
    minLength: 1,
    maxLength: 4,
  })
  .map((chords): Song => ({ name: 'made up', weight: 1, ...readProgression(chords.join(' | ')) }));

const asked = smallSetup.chain((setup) => {
  const free = STATIONS.filter(
    (station) => !isPedal(station) && !setup.controls.some((each) => each.station === station),
  );
  const pull = fc.record({
    neck: fc.constant(1),
    string: fc.integer({ min: 1, max: setup.necks[0]?.strings.length ?? 1 }),
    semitones: fc.constantFrom(-2, -1, 1, 2),
  });
  return fc.record({
    setup: fc.constant(setup),
    song,
    station: fc.constantFrom(...free),
    pulls: fc.uniqueArray(pull, { minLength: 1, maxLength: 2, selector: ({ string }) => string }),
    slants: fc.boolean(),
  });
});

it('makes no song dearer and no chord impossible, solved whole or in short', () => {
  let opened = 0;
  fc.assert(
    fc.property(asked, ({ setup, song, station, pulls, slants }) => {
      const after = withControl(setup, { id: station, station, pulls });
      const before = songFigures(setup, song, slants);
      const whole = songFigures(after, song, slants);
      expect(figuresWith(after, song, slants, [station], before)).toEqual(whole);
      expect(whole.missing).toBeLessThanOrEqual(before.missing);
      if (whole.missing < before.missing) opened++;
      else expect(whole.cost).toBeLessThanOrEqual(before.cost);
    }),
    { numRuns: runs(60) },
  );
  expect(opened).toBeGreaterThan(0);
});
