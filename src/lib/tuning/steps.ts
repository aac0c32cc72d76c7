/** What a player tunes one after the other: every open string, then each control's pulls. */
import { STATIONS, type Setup } from '$lib/setup/setup';
import type { Target } from './targets';

/**
 * Strings first, since every pull starts from its open string; then control by control as they lie
 * before the player, pedals and then knees, the half-stop before the full stop.
 */
export function stepsOf(setup: Setup, targets: readonly Target[]): Target[] {
  const stationIndex = ({ control }: Target): number => {
    const station = setup.controls.find(({ id }) => id === control)?.station;
    return station === undefined ? -1 : STATIONS.indexOf(station);
  };
  // a stable sort: within a control by the order of its pulls
  return [...targets].sort((a, b) => stationIndex(a) - stationIndex(b));
}

export interface Nearest {
  readonly target: Target;
  /** How far what is heard lies above the target. */
  readonly cents: number;
  /** Other stops whose targets lie as near, to a few cents: the same note elsewhere. */
  readonly also: readonly Target[];
}

const SAME_NOTE_CENTS = 25;

/** How far a pitch in hertz lies above a target, in cents; below it, negative. 1200 · log₂ of the ratio. */
export const centsFrom = (target: Pick<Target, 'hz'>, hz: number): number =>
  1200 * Math.log2(hz / target.hz);

/**
 * The target nearest to what is heard, over strings and controls. Of stops that want the same note the
 * wanted one goes first, then an open string, for a player strikes those more.
 */
export function nearestTarget(
  targets: readonly Target[],
  hz: number,
  wanted?: Target,
): Nearest | undefined {
  const away = targets
    .map((target) => ({ target, cents: centsFrom(target, hz) }))
    .sort((a, b) => Math.abs(a.cents) - Math.abs(b.cents));
  const [first] = away;
  if (first === undefined) return undefined;
  const same = away.filter(
    ({ cents }) => Math.abs(cents) - Math.abs(first.cents) < SAME_NOTE_CENTS,
  );
  const chosen =
    same.find(({ target }) => target === wanted) ??
    same.find(({ target }) => target.control === null) ??
    first;
  return {
    ...chosen,
    also: same.flatMap(({ target }) => (target === chosen.target ? [] : [target])),
  };
}
