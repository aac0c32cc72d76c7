/** Proposed pulls in words. */
import { signed } from '$lib/theory/signed';
import type { PlainPull } from '$lib/setup/candidates';
import type { Setup } from '$lib/setup/setup';
import { strainsOf } from '$lib/strings/strains';
import { headroomText } from '$lib/strings/warnings';

/** `5 −1`, on another neck `neck 2 5 −1`. */
export const pullText = ({ neck, string, semitones }: PlainPull): string =>
  `${neck === 1 ? '' : `neck ${neck} `}${string} ${signed(semitones)}`;

/** Of all its strings at the end of their raise: the one nearest to breaking. */
export function leastHeadroom(setup: Setup, pulls: readonly PlainPull[]): string {
  const known = strainsOf(setup, pulls).flatMap(({ headroomSemitones }) =>
    headroomSemitones === undefined ? [] : [headroomSemitones],
  );
  return known.length === 0 ? '' : headroomText(Math.min(...known));
}
