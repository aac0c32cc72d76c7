/** A move as a player would tell it to another. */
import { engagedWords } from '$lib/setup/engagedText';
import type { ControlChanges } from '$lib/effort/move';
import type { ArrangedStep } from './arrange';

/** `press A and B`, `release LKR`, `RKR to its half-stop`. */
function changeWords({ pressed, letGo, shifted }: ControlChanges): string[] {
  return [
    ...(letGo.length > 0
      ? [`release ${engagedWords(letGo.map(({ id }) => ({ id, state: 'full' })))}`]
      : []),
    ...(pressed.length > 0 ? [`press ${engagedWords(pressed)}`] : []),
    ...shifted.map(({ id, state }) => `${id} to ${state === 'half' ? 'its half-stop' : 'its end'}`),
  ];
}

const barText = ({ hold }: ArrangedStep): string =>
  hold.slant === 0 ? String(hold.fret) : `${hold.fret}/${hold.fret + hold.slant}`;

/**
 * From one chord to the next: `bar 3 → 8, press A and B`, `bar stays: release LKR`, `everything
 * stays`. The words of the arrow differ for the eye and the ear.
 */
export function moveWords(from: ArrangedStep, to: ArrangedStep, arrow = '→'): string {
  const changes = changeWords(to.move.changes);
  const otherNeck = from.hold.neck !== to.hold.neck;
  const still = to.move.barMm === 0 && !otherNeck;
  if (still) {
    if (changes.length > 0) return `bar stays: ${changes.join(', ')}`;
    return from.hold.strings.join() === to.hold.strings.join() ? 'everything stays' : 'bar stays';
  }
  const position = (step: ArrangedStep): string =>
    otherNeck ? `neck ${step.hold.neck} fret ${barText(step)}` : barText(step);
  return [`bar ${position(from)} ${arrow} ${position(to)}`, ...changes].join(', ');
}

/** `string 4`, `strings 4 and 5`. */
const stringWords = (strings: readonly number[]): string => {
  const last = strings.at(-1) ?? 0;
  return strings.length === 1
    ? `string ${last}`
    : `strings ${strings.slice(0, -1).join(', ')} and ${last}`;
};

/** What becomes of the strings that ring into a chord: `strings 4 and 5 ring on`, `all strings slide`. */
export function heldWords({ move, hold }: ArrangedStep, held: readonly number[]): string {
  if (held.length === 0) return '';
  const does = move.barMm > 0 ? 'slide' : 'ring on';
  const one = move.barMm > 0 ? 'slides' : 'rings on';
  return hold.strings.length === held.length && held.length > 1
    ? `all strings ${does}`
    : `${stringWords(held)} ${held.length === 1 ? one : does}`;
}

/** Strings that are picked once more before they move into a chord. */
export const againWords = (again: readonly number[]): string =>
  again.length === 0 ? '' : `${stringWords(again)} picked again a beat before`;
