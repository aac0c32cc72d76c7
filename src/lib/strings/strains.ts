/** What a pull that is only thought of would ask of its string. */
import { FURTHEST, type PlainPull, type StringRange } from '$lib/setup/candidates';
import type { Setup } from '$lib/setup/setup';
import type { Band } from './bands';
import { compassOf } from './compass';
import { loadOf } from './loads';

/**
 * How far each string of known gauge can be moved and neither break by handbook values nor go slack;
 * up to three semitones either way. Strings of which nothing is known are left out.
 */
export function workingRanges(setup: Setup): StringRange[] {
  return setup.necks.flatMap((neck, n) =>
    neck.strings.flatMap((string, s) => {
      const bears = (semitones: number): boolean => {
        const compass = { up: Math.max(0, semitones), down: Math.min(0, semitones) };
        const found = loadOf(setup, string, compass);
        return !('load' in found) || found.load.band !== 'beyond';
      };
      let [least, most] = [0, 0];
      while (most < FURTHEST && bears(most + 1)) most++;
      while (least > -FURTHEST && bears(least - 1)) least--;
      return least === -FURTHEST && most === FURTHEST
        ? []
        : [{ neck: n + 1, string: s + 1, least, most }];
    }),
  );
}

/** One string with a further pull: the highest it is raised and the lowest it is lowered by anything. */
export interface Strain extends PlainPull {
  /** Semitones from its highest raise to breaking; nothing where the gauge is not told. */
  readonly headroomSemitones?: number;
  readonly band?: Band;
  readonly estimate?: boolean;
}

/**
 * What some further pulls (in semitones) would ask of their strings, in their order. Where the wire is
 * not known a strain is the pull alone. Throws where the setup has not got the string.
 */
export const strainsOf = (setup: Setup, pulls: readonly PlainPull[]): Strain[] =>
  pulls.map((pull): Strain => {
    const string = setup.necks[pull.neck - 1]?.strings[pull.string - 1];
    if (string === undefined) throw new Error(`string ${pull.string} of neck ${pull.neck}`);
    const { up, down } = compassOf(setup, pull.neck, pull.string);
    const found = loadOf(setup, string, {
      up: Math.max(up, pull.semitones),
      down: Math.min(down, pull.semitones),
    });
    if (!('load' in found)) return pull;
    const { headroomSemitones, band, estimate } = found.load;
    return { ...pull, headroomSemitones, band, estimate };
  });
