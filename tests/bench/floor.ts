/** What the arranger is measured against. */
import type { WaysQuestion } from '$lib/arrange/bestWays';
import { changedBits, semitonesBetween } from '$lib/arrange/moveCosts';

/**
 * The floor: a plain dynamic program over the same candidates and prices, every one against every one. It finds
 * the cost of the best way alone, and lets nothing stay that is not needed.
 */
export function plainBest({ stages, costs, times, joints }: Omit<WaysQuestion, 'most'>): number {
  let so = new Int32Array();
  stages.forEach((stage, at) => {
    const { layer } = stage;
    const before = stages[at - 1];
    if (before === undefined) {
      so = stage.effort.map((effort, c) => {
        const position = layer.positions[layer.position[c] ?? 0];
        return effort + (position === undefined ? 0 : costs.arrival(position, undefined));
      });
      return;
    }
    const next = new Int32Array(layer.count).fill(2 ** 30);
    const [from, to] = [costs.codesOf(before), costs.codesOf(stage)];
    const joint = joints?.[at - 1];
    const which = Int32Array.from(layer.positions, (_, position) => position);
    const prices = new Int32Array(which.length);
    before.layer.positions.forEach(({ neck }, p) => {
      costs.pricesTo(from, p, to, which, which.length, times[at - 1] ?? 1, prices);
      const sameNeck = layer.positions.map((position) => position.neck === neck);
      for (const b of before.layer.members[p] ?? [])
        for (let c = 0; c < layer.count; c++) {
          const q = layer.position[c] as number;
          const way = (so[b] as number) + (prices[q] as number) + (stage.effort[c] as number);
          const changed = changedBits(
            before.layer.grip[b] as number,
            layer.grip[c] as number,
            sameNeck[q] === true,
          );
          const sum =
            way +
            (joint === undefined
              ? (costs.picking[changed] as number) +
                (costs.voices[semitonesBetween(before.layer, b, layer, c)] as number)
              : joint.price(b, c));
          if (sum < (next[c] as number)) next[c] = sum;
        }
    });
    so = next;
  });
  return so.reduce((least, each) => Math.min(least, each), 2 ** 30);
}
