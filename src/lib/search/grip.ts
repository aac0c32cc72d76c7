/** The strings picked together, packed into one number: string s, counted from 0, in bit s. */
export type Grip = number;

/** Strings as players number them, from 1, as a grip. */
export const gripOf = (strings: readonly number[]): Grip =>
  strings.reduce((grip, string) => grip | (1 << (string - 1)), 0);

/** The strings of a grip as players number them, from 1, ascending. */
export function stringsIn(grip: Grip): number[] {
  const strings: number[] = [];
  for (let s = 0; grip >> s !== 0; s++) if (grip & (1 << s)) strings.push(s + 1);
  return strings;
}

/** How many strings a grip has. */
export function gripSize(grip: Grip): number {
  let size = 0;
  for (let rest = grip; rest !== 0; rest &= rest - 1) size++;
  return size;
}

/**
 * Every grip of a neck with so many strings, ascending as numbers.
 *
 * @param sizes fewest and most strings of a grip
 * @param usable the strings that may be in one; all where left out
 */
export function gripsOf(
  strings: number,
  [fewest, most]: readonly [number, number],
  usable: Grip = (1 << strings) - 1,
): Grip[] {
  const grips: Grip[] = [];
  for (let grip = 1; grip < 1 << strings; grip++) {
    if ((grip & ~usable) !== 0) continue;
    const size = gripSize(grip);
    if (size >= fewest && size <= most) grips.push(grip);
  }
  return grips;
}
