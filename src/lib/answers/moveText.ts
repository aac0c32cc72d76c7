/** The move of a changed voicing, in the words that its row begins with. */
import { isHand, isPedal, type Engaged, type Setup } from '$lib/setup/setup';

const NUMBERS = ['no', 'one', 'two', 'three', 'four'] as const;

const countOf = (count: number, noun: string): string =>
  `${NUMBERS[count] ?? count} ${noun}${count === 1 ? '' : 's'}`;

/** `with one lever`, `with two pedals and one lever`, `with nothing engaged`. */
export function holdWords(setup: Setup, engaged: readonly Engaged[]): string {
  const stations = engaged.flatMap(({ id }) =>
    setup.controls.filter((control) => control.id === id).map(({ station }) => station),
  );
  if (stations.length === 0) return 'with nothing engaged';
  const pedals = stations.filter(isPedal).length;
  const hand = stations.filter(isHand).length;
  const levers = stations.length - pedals - hand;
  const parts = [
    ...(pedals === 0 ? [] : [countOf(pedals, 'pedal')]),
    ...(levers === 0 ? [] : [countOf(levers, 'lever')]),
    ...(hand === 0 ? [] : [countOf(hand, 'hand lever')]),
  ];
  const last = parts.pop() ?? '';
  return `with ${[...parts, last].join(' and ')}`;
}

/** `with one lever, 2.3 → 1.6`: what is engaged, the effort before where there was one, and now. */
export const moveText = (
  setup: Setup,
  engaged: readonly Engaged[],
  effort: number,
  before: number | undefined,
  digits: number,
): string =>
  `${holdWords(setup, engaged)}, ${before === undefined ? '' : `${before.toFixed(digits)} → `}${effort.toFixed(digits)}`;
