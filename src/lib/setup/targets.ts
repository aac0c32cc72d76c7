/**
 * Where a setup's strings really stand: the tuning targets of its strings and pulls, in cents from
 * equal temperament. A string or pull without a target stands in equal temperament.
 */
import { pullIn, type ControlState, type Engaged, type Setup } from './setup';

/**
 * Cents by which each string of a neck is off equal temperament, string 1 first. A pull has its own
 * target, so it moves its string by as much as leads from the one to the other; the farthest raise
 * and the farthest lower decide, and in a split both ways add up. Strings that an engaged control
 * does not pull fall by their measured drop; at a half-stop by half of it, which is a guess.
 */
export function centsOf(setup: Setup, neck: number, engaged: readonly Engaged[]): number[] {
  const strings = setup.necks[neck - 1]?.strings ?? [];
  const drop = strings.map(() => 0);
  const none = { semitones: 0, way: 0 };
  const raise = strings.map(() => none);
  const lower = strings.map(() => none);
  for (const { id, state } of engaged) {
    const control = setup.controls.find((each) => each.id === id);
    for (const pull of control?.pulls ?? []) {
      const semitones = pullIn(pull, state);
      const index = pull.string - 1;
      const open = strings[index];
      if (pull.neck !== neck || open === undefined || semitones === 0) continue;
      const target = (state === 'full' ? pull.cents : pull.halfCents) ?? 0;
      const way = 100 * semitones + target - (open.cents ?? 0);
      if (semitones > 0 && isFarther(way, raise[index])) raise[index] = { semitones, way };
      if (semitones < 0 && isFarther(-way, lower[index], -1)) lower[index] = { semitones, way };
    }
    for (const { neck: on, string, cents } of control?.drops ?? [])
      if (on === neck) drop[string - 1] = (drop[string - 1] ?? 0) + cents * loadIn(state);
  }
  return strings.map((string, index) => {
    const up = raise[index] ?? none;
    const down = lower[index] ?? none;
    return (
      (string.cents ?? 0) +
      up.way +
      down.way -
      100 * (up.semitones + down.semitones) -
      (drop[index] ?? 0)
    );
  });
}

/** How much of a control's full load is on the body: at a half-stop about half. */
export const loadIn = (state: ControlState): number => (state === 'half' ? 0.5 : 1);

/** Of two pulls one way the one that goes farther decides; `sign` turns a lower's way upwards. */
const isFarther = (way: number, than: { semitones: number; way: number } | undefined, sign = 1) =>
  than === undefined || than.semitones === 0 || way > sign * than.way;
