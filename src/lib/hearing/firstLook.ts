/**
 * A first look at where expected strings lie: all of them sharp or flat by the same, as under a bar, then
 * each for itself near there.
 */
import { stiffCents, USUAL_STIFFNESS } from './law';
import { sizeAt, type Spectrum } from './spectrum';

/** Partials that are looked at. */
const PARTIALS = 6;
/** Cents from one try to the next. */
const STEP = 2;
/** A string may be off the others by so many cents. */
const APART = 30;

/** How much of a string is heard where it would be so many cents off. */
function heardAt(spectrum: Spectrum, hz: number, cents: number): number {
  let sum = 0;
  for (let number = 1; number <= PARTIALS; number++) {
    const at = number * hz * 2 ** ((cents + stiffCents(USUAL_STIFFNESS, number)) / 1200);
    // loud partials do not drown the others
    sum += Math.sqrt(sizeAt(spectrum, at)) / Math.sqrt(number);
  }
  return sum;
}

/** How many cents each string seems to be off its target, at most `within`. */
export function firstCents(
  spectrum: Spectrum,
  targets: readonly number[],
  within: number,
): number[] {
  const tries = Array.from(
    { length: 2 * Math.floor(within / STEP) + 1 },
    (_, i) => i * STEP - STEP * Math.floor(within / STEP),
  );
  const heard = targets.map((hz) => tries.map((cents) => heardAt(spectrum, hz, cents)));
  const together = tries.map((_, at) => heard.reduce((sum, each) => sum + (each[at] as number), 0));
  const bar = tries[together.indexOf(Math.max(...together))] as number;
  return heard.map((each) => {
    let best = 0;
    let bestAt = bar;
    tries.forEach((cents, at) => {
      if (Math.abs(cents - bar) > APART) return;
      // what is nearer to the others is likelier
      const score = (each[at] as number) * (1 - 0.1 * (Math.abs(cents - bar) / APART) ** 2);
      if (score > best) [best, bestAt] = [score, cents];
    });
    return bestAt;
  });
}
