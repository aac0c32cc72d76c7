/** How a candidate can be held after another, said plainly: for the tests of what is arranged. */
import type { Engaged, Setup } from '$lib/setup/setup';
import { sounding } from '$lib/setup/sounding';
import type { SoundingHold } from '$lib/effort/move';

/** Controls as a text that does not depend on their order. */
export const codeOf = (engaged: readonly Engaged[]): string =>
  engaged
    .map(({ id, state }) => id + state)
    .sort()
    .join('+');

/** The controls of a way as `plainSearch` writes it. */
export const engagedOf = (way: string): Engaged[] =>
  way
    .split(' ')
    .filter(Boolean)
    .map((word) => {
      const [id = '', half] = word.split(':');
      return { id, state: half === undefined ? 'full' : 'half' };
    });

/**
 * A candidate as it can be held after another: as it is; or, under a bar that stays, with one control that
 * was engaged before, where the body can hold that and none of the picked strings is moved.
 */
export function holdsAfter(
  setup: Setup,
  reachable: ReadonlySet<string>,
  last: SoundingHold | undefined,
  hold: SoundingHold,
): SoundingHold[] {
  if (last === undefined || last.fret !== hold.fret || last.neck !== hold.neck) return [hold];
  const staying = last.engaged.filter(({ id }) => !hold.engaged.some((each) => each.id === id));
  return [
    hold,
    ...staying.flatMap((control): SoundingHold[] => {
      const engaged = [...hold.engaged, control];
      if (!reachable.has(codeOf(engaged))) return [];
      const sounds = sounding(setup, hold.neck, engaged, hold.fret);
      const same = hold.strings.every((string, at) => sounds[string - 1] === hold.pitches[at]);
      return same ? [{ ...hold, engaged, idle: [control] }] : [];
    }),
  ];
}
