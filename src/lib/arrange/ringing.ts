/**
 * Which strings ring on from one chord into the next. A string that both grips have goes along with the
 * bar and the controls while it sounds; it is picked anew when it has rung for so long that it would be
 * too soft, when the bar goes so far that it would howl, and when nothing about the chord has changed
 * (a chord that is written again is to be heard again).
 */
import type { ArrangedStep } from './arrange';
import { barSeconds, type Progression } from './progression';

/** Seconds after its stroke until which a string may still carry into another chord. */
const CARRIES = 3;
/** Frets beyond which the strings are blocked while the bar is led. */
const FARTHEST_SLIDE = 7;

/** By step of the way: the strings that are not picked. */
export function ringingOn(
  progression: Progression,
  steps: readonly ArrangedStep[],
): readonly (readonly number[])[] {
  const seconds = barSeconds(progression);
  const struck = new Map<number, number>();
  return steps.map((step, at) => {
    const before = steps[at - 1];
    const now = step.step.start * seconds;
    const follows =
      before !== undefined &&
      before.hold.neck === step.hold.neck &&
      // nothing stands between them
      Math.abs(before.step.start + before.step.length - step.step.start) < 1e-9;
    const same =
      before !== undefined &&
      step.move.total === 0 &&
      before.hold.pitches.join() === step.hold.pitches.join();
    const near =
      before !== undefined && Math.abs(before.hold.fret - step.hold.fret) <= FARTHEST_SLIDE;
    const held =
      follows && near && !same
        ? step.move.held.filter((string) => now - (struck.get(string) ?? -Infinity) <= CARRIES)
        : [];
    for (const string of step.hold.strings) if (!held.includes(string)) struck.set(string, now);
    return held;
  });
}
