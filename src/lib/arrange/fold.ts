/**
 * Ways that are nearly the same, folded together: where bar, feet and knees do the same all along and
 * only grips differ, the later way is a copy of the first one.
 */
import { engagedCode } from '$lib/setup/engagedText';
import type { ArrangedWay } from './arrange';

export interface FoldedWay {
  /** Its index among the ways, from 0. */
  readonly index: number;
  /** Indexes of its near-copies, ascending. */
  readonly copies: readonly number[];
}

const pathOf = ({ steps }: ArrangedWay): string =>
  steps
    .map(
      ({ hold: { neck, fret, slant, engaged } }) =>
        `${neck}/${fret}/${slant}/${engagedCode(engaged)}`,
    )
    .join(' ');

/** Every way once, under the first that goes the same path. */
export function folded(ways: readonly ArrangedWay[]): FoldedWay[] {
  const byPath = new Map<string, { index: number; copies: number[] }>();
  ways.forEach((way, index) => {
    const path = pathOf(way);
    const first = byPath.get(path);
    if (first === undefined) byPath.set(path, { index, copies: [] });
    else first.copies.push(index);
  });
  return [...byPath.values()];
}

/** Where two ways differ: `other grip in measure 3`, `other position in measures 2 and 4`. */
export function differenceWords(from: ArrangedWay, to: ArrangedWay): string {
  const bars = { position: new Set<number>(), grip: new Set<number>() };
  to.steps.forEach((step, at) => {
    const before = from.steps[at]?.hold;
    if (before === undefined) return;
    const { hold } = step;
    const bar = step.step.bar + 1;
    const samePosition =
      before.neck === hold.neck &&
      before.fret === hold.fret &&
      before.slant === hold.slant &&
      engagedCode(before.engaged) === engagedCode(hold.engaged);
    if (!samePosition) bars.position.add(bar);
    else if (before.strings.join() !== hold.strings.join()) bars.grip.add(bar);
  });
  const words = (what: string, set: ReadonlySet<number>): string[] =>
    set.size === 0 ? [] : [`other ${what} in ${barsWords([...set])}`];
  return (
    [...words('position', bars.position), ...words('grip', bars.grip)].join('; ') || 'the same'
  );
}

/** That a search was cut short, and by how much what it found may be dearer than the best; nothing for most. */
export const shortWords = ({ short }: Pick<ArrangedWay, 'short'>): string =>
  short === undefined
    ? ''
    : `The search was cut short: there may be an arrangement with up to ${short.toFixed(2)} less effort.`;

/** `measure 3`, `measures 3 and 5`, `measures 1, 3 and 5`, `6 measures`. */
function barsWords(bars: readonly number[]): string {
  const last = bars.at(-1) ?? 0;
  if (bars.length === 1) return `measure ${last}`;
  return bars.length > 4
    ? `${bars.length} measures`
    : `measures ${bars.slice(0, -1).join(', ')} and ${last}`;
}
