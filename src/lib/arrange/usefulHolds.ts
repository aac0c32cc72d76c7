/** What may stay at each chord of a piece although nothing needs it, and be of use: what was engaged before, and is needed after. */
import { engagedAt } from './asHeld';
import type { WrittenOrder } from './asWritten';
import { controlOf } from './feetCosts';
import { idleAt, type Coded } from './moveCosts';
import type { Stage } from './stage';

/** By chord in the order of playing, by what is held: may it be so, and can that be of use? */
export function usefulHolds(
  order: WrittenOrder,
  stages: readonly Stage[],
  codes: readonly Coded[],
) {
  const { at } = order;
  const count = (stage: number): number => codes[stage]?.idle.length ?? 0;
  const isIdle = (stage: number, held: number): boolean => (codes[stage]?.idle[held] ?? -1) >= 0;
  const use = at.map((stage) => new Uint8Array(count(stage)));
  at.forEach((stage, time) => {
    const own = codes[stage] as Coded;
    const before = time === 0 ? undefined : (at[time - 1] as number);
    const there =
      before === undefined
        ? new Set<number>()
        : engagedAt(
            codes[before] as Coded,
            [...(use[time - 1] as Uint8Array).keys()].filter((held) => use[time - 1]?.[held] === 1),
          );
    for (let held = 0; held < count(stage); held++)
      if (
        !isIdle(stage, held) ||
        there.has(idleAt(own.bar[held] as number, own.idle[held] as number))
      )
        (use[time] as Uint8Array)[held] = 1;
  });
  for (let time = at.length - 1; time >= 0; time--) {
    const stage = at[time] as number;
    const own = codes[stage] as Coded;
    const after = at[time + 1];
    const needed = new Set<number>();
    const staying = new Set<number>();
    const next = after === undefined ? undefined : codes[after];
    for (let held = 0; next !== undefined && held < next.idle.length; held++) {
      const bar = next.bar[held] as number;
      if (use[time + 1]?.[held] !== 1) continue;
      // it may be needed wherever the bar goes
      for (const control of next.controls[held] ?? []) needed.add(controlOf(control));
      const stays = next.idle[held] as number;
      if (stays >= 0) staying.add(idleAt(bar, stays));
    }
    for (let held = 0; held < count(stage); held++) {
      if (!isIdle(stage, held)) continue;
      const [bar, idle] = [own.bar[held] as number, own.idle[held] as number];
      if (!needed.has(controlOf(idle)) && !staying.has(idleAt(bar, idle)))
        (use[time] as Uint8Array)[held] = 0;
    }
  }
  return use;
}
