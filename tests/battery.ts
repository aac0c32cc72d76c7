/**
 * Batteries: tests over many cases made or picked by chance. `npm test` runs a slice of each, the same
 * one every time; `npm run check:long` runs them whole, from a new seed every time.
 */
import { it } from 'vitest';
import { randomFrom } from './random';
import { LONG, SEED } from './seed';

/** What a whole battery has more of than its slice, where nothing else is said. */
const TIMES = 10;

/** How many random cases a property is tried on: `slice` of them, or the whole. */
export const runs = (slice: number, whole = TIMES * slice): number => (LONG ? whole : slice);

const MINUTE_MS = 60_000;
/** How long a whole battery may take; it runs beside whatever else the machine does. */
export const HOUR_MS = 60 * MINUTE_MS;

/** How to run again what failed in a test file, with the same cases. */
export function repeatWith(testPath: string): string {
  const file = testPath.slice(testPath.lastIndexOf('/tests/') + 1);
  const name = file.replace(/^.*\/|\.test\.ts$/g, '');
  const command = LONG ? `npm run check:long -- ${name}` : `npx vitest run ${file}`;
  return `To repeat it: GRIPWRIGHT_SEED=${SEED} ${command}`;
}

/** What a battery gets its cases from. */
export interface Cases {
  /** How many there are to be. */
  readonly count: number;
  /** Numbers from 0 up to 1. */
  readonly random: () => number;
  /** As many items of a list as there are to be, picked by chance, in the order of the list. */
  readonly of: <T>(list: readonly T[]) => T[];
}

/** A test over `slice` cases, or over the `whole` number of them. */
export function battery(
  name: string,
  { slice, whole }: { readonly slice: number; readonly whole: number },
  test: (cases: Cases) => void | Promise<void>,
): void {
  it(name, { timeout: LONG ? HOUR_MS : 5 * MINUTE_MS }, async ({ task }) => {
    const count = runs(slice, whole);
    const random = randomFrom(SEED);
    const of = <T>(list: readonly T[]): T[] => {
      let wanted = count;
      // each item is taken with the chance that leaves the rest of the list enough for the rest
      return list.filter((_, at) => {
        const taken = random() * (list.length - at) < wanted;
        if (taken) wanted -= 1;
        return taken;
      });
    };
    Object.assign(task.meta, { cases: count });
    try {
      await test({ count, random, of });
    } catch (error) {
      if (error instanceof Error) error.message += `\n${repeatWith(task.file.filepath)}`;
      throw error;
    }
  });
}
