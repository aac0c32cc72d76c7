/**
 * What a combination of controls asks of the left foot, both knees, and the picking hand where that has
 * levers of its own: they count here, for they come with the combination and not with the grip.
 */
import {
  isHand,
  isPedal,
  kneeLever,
  pedalNumber,
  type Control,
  type Engaged,
  type Setup,
} from '$lib/setup/setup';
import { WEIGHTS, type Term } from './weights';

const ORDINALS = ['pedal', 'second pedal', 'third pedal', 'fourth pedal'] as const;

/**
 * The middle of the pedal bar as a pedal number; the left knee hangs above it. Of several setups the
 * middle of a bar with the pedals of all.
 */
export function middlePedal(...setups: readonly Setup[]): number {
  const numbers = setups
    .flatMap(({ controls }) => controls.map(({ station }) => station))
    .filter(isPedal)
    .map(pedalNumber);
  return numbers.length === 0 ? 0 : (Math.min(...numbers) + Math.max(...numbers)) / 2;
}

/** How many pedals the foot stands away from the side to which the left knee goes; 0 where it helps. */
function againstFoot(pedals: readonly Control[], middle: number, left: boolean): number {
  if (pedals.length === 0) return 0;
  const stands =
    pedals.reduce((sum, { station }) => sum + (isPedal(station) ? pedalNumber(station) : 0), 0) /
    pedals.length;
  const right = stands - middle;
  return Math.max(0, left ? right : -right);
}

/**
 * The terms of holding a combination; none where nothing is engaged.
 *
 * @param middle the middle of the pedal bar: the setup's own where left out. A change that brings or
 *   takes a pedal does not move the others under the foot, so both its sides are held over one bar.
 */
export function feetTerms(
  setup: Setup,
  engaged: readonly Engaged[],
  middle = middlePedal(setup),
): Term[] {
  const terms: Term[] = [];
  const add = (name: string, value: number): void => {
    if (value > 0) terms.push({ part: 'feet', name, value });
  };
  const controls = engaged.flatMap(({ id }) => setup.controls.filter((c) => c.id === id));
  const pedals = controls.filter(({ station }) => isPedal(station));
  const hand = controls.filter(({ station }) => isHand(station));
  const levers = controls.flatMap(({ id, station }) =>
    isPedal(station) || isHand(station) ? [] : [{ id, station, ...kneeLever(station) }],
  );

  pedals.forEach((control, at) => {
    const index = Math.min(at, ORDINALS.length - 1);
    add(`${ORDINALS[index] ?? ''} ${control.id}`, WEIGHTS.pedal[index] ?? 0);
  });
  for (const { id, way } of levers)
    add(
      way === 'up' ? `lifted knee ${id}` : `lever ${id}`,
      way === 'up' ? WEIGHTS.leverUp : WEIGHTS.lever,
    );
  for (const { id, bank } of levers)
    if (bank === 2) add(`${id} in the second bank`, WEIGHTS.secondBank);
  for (const { id, station } of levers)
    if (station.startsWith('R')) add(`${id} beside the volume pedal`, WEIGHTS.rightKnee);
  for (const { id } of hand) add(`lever ${id} of the picking hand`, WEIGHTS.handLever);
  for (const { id, state } of engaged)
    if (state === 'half') add(`half-stop of ${id}`, WEIGHTS.halfStop);
  for (const { station, way } of levers)
    if (station.startsWith('L') && way !== 'up')
      add(
        'left knee against its foot',
        Math.min(
          WEIGHTS.kneeAgainstFootMost,
          WEIGHTS.kneeAgainstFoot * againstFoot(pedals, middle, way === 'left'),
        ),
      );
  for (const knee of ['L', 'R'] as const)
    if (levers.filter(({ station }) => station.startsWith(knee)).length > 1)
      add('one knee up and sideways', WEIGHTS.kneeUpAndSideways);
  return terms;
}

/** The same in one number. */
export const feetEffort = (setup: Setup, engaged: readonly Engaged[], middle?: number): number =>
  feetTerms(setup, engaged, middle).reduce((sum, term) => sum + term.value, 0);
