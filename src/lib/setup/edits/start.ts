/** Setups to begin with. */
import type { Neck, Setup } from '../setup';
import { BOUNDS, DEFAULTS } from '../setupFile';

/** A tuning and nothing else: no pedal, no lever. */
export const emptySetup = (necks: readonly Neck[], like?: Setup): Setup => ({
  name: `${necks.map(({ name }) => name).join(' and ')}, no controls yet`,
  frets: like?.frets ?? DEFAULTS.frets,
  scaleLengthMm: like?.scaleLengthMm ?? DEFAULTS.scaleLengthMm,
  referenceHz: like?.referenceHz ?? DEFAULTS.referenceHz,
  reach: DEFAULTS.reach,
  necks,
  controls: [],
});

/** The same under a name of its own, with a word more; where the name has no room for it, under the same. */
export function copied(setup: Setup, word = 'copy'): Setup {
  const name = `${setup.name}, ${word}`;
  return name.length > BOUNDS.name[1] ? setup : { ...setup, name };
}
