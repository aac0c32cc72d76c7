/** The pedals and levers that a setup begins with, before anything is pulled. */
import { LEFT_KNEE, PEDALS, RIGHT_KNEE, STATIONS, type Setup, type Station } from '../setup';
import { edited, type Edited } from './edited';

/**
 * In which order instruments get their levers: sideways on both knees, then up on the left, up on the right (common
 * practice of the trade, from memory).
 */
const LEVERS: readonly Station[] = [
  ...new Set<Station>(['LKL', 'LKR', 'RKL', 'RKR', 'LKV', 'RKV', ...LEFT_KNEE, ...RIGHT_KNEE]),
];
/** The first three pedals are called by letters (common practice). */
const LETTERS: Readonly<Record<string, string>> = { P1: 'A', P2: 'B', P3: 'C' };

/** As many pedals, and levers, as can be begun with. */
export const MOST_BEGUN = { pedals: 8, levers: 6 } as const;

/** From how many strings on a neck has pedals; lap steels have fewer (common practice). */
const STRINGS_WITH_PEDALS = 9;

/** The pedals and levers that a neck of so many strings usually has. */
export const usualCounts = (strings: number): { pedals: number; levers: number } =>
  strings >= STRINGS_WITH_PEDALS ? { pedals: 3, levers: 5 } : { pedals: 0, levers: 0 };

const NUMBERS = 'no one two three four five six seven eight'.split(' ');
const counted = (count: number, word: string): string =>
  `${NUMBERS[count] ?? count} ${word}${count === 1 ? '' : 's'}`;

/** `three pedals and five levers`. */
const countsText = (pedals: number, levers: number): string =>
  [
    ...(pedals > 0 ? [counted(pedals, 'pedal')] : []),
    ...(levers > 0 ? [counted(levers, 'lever')] : []),
  ].join(' and ');

/** The setup with so many pedals and levers at their usual stations, which pull nothing yet, in the place of its own. */
export function withUsualControls(setup: Setup, pedals: number, levers: number): Edited {
  const stations: Station[] = [
    ...PEDALS.slice(0, Math.min(pedals, MOST_BEGUN.pedals)),
    ...LEVERS.slice(0, Math.min(levers, MOST_BEGUN.levers)),
  ];
  stations.sort((a, b) => STATIONS.indexOf(a) - STATIONS.indexOf(b));
  if (stations.length === 0) return edited({ ...setup, controls: [] });
  return edited({
    ...setup,
    name: setup.name.replace(/, no controls yet$/u, `, ${countsText(pedals, levers)}`),
    controls: stations.map((station) => ({ id: LETTERS[station] ?? station, station, pulls: [] })),
  });
}
