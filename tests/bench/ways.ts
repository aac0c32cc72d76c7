/**
 * The exact best ways through a progression of sixteen different chords, repeated to the length asked
 * for: the first time, when nothing is known of the setup yet, and again, as after a lock or a wish.
 */
import { arrange, readyFor } from '$lib/arrange/arrange';
import { changedBits, semitonesBetween } from '$lib/arrange/moveCosts';
import type { WaysQuestion } from '$lib/arrange/bestWays';
import { readProgression } from '$lib/arrange/readText';
import { noWishes } from '$lib/arrange/wishes';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import { medians, ms, print } from './measure';

const SIXTEEN =
  'G | Em7 | Am7 | D7 | Gmaj7 | C | Cm6 | D9 | Bm7 | F#m7b5 | B7 | A7 | Dsus4 | Ebdim7 | F | Bb';

const CASES: readonly (readonly [id: BuiltInId, chords: number, ways: number, wanted: string])[] = [
  ['e9', 16, 1, '100 ms'],
  ['e9', 16, 10, '100 ms'],
  ['universal12', 64, 10, '500 ms'],
  ['universal12', 200, 3, ''],
];

/**
 * The floor: a plain dynamic program over the same candidates and prices, every one against every one, that
 * finds the cost of the best way alone and lets nothing stay that is not needed.
 */
export function plainBest({ stages, costs, times }: Omit<WaysQuestion, 'most'>): number {
  let so: number[] = [];
  stages.forEach((stage, at) => {
    const { layer } = stage;
    const before = stages[at - 1];
    if (before === undefined) {
      so = Array.from(stage.effort, (effort, c) => {
        const position = layer.positions[layer.position[c] ?? 0];
        return effort + (position === undefined ? 0 : costs.arrival(position, undefined));
      });
      return;
    }
    const next = Array.from(stage.effort, () => Infinity);
    const [from, to] = [costs.codesOf(before), costs.codesOf(stage)];
    const which = Int32Array.from(layer.positions, (_, position) => position);
    const prices = new Int32Array(which.length);
    before.layer.positions.forEach((position, p) => {
      costs.pricesTo(from, p, to, which, times[at - 1] ?? 1, prices);
      for (const b of before.layer.members[p] ?? [])
        for (let c = 0; c < layer.count; c++) {
          const q = layer.position[c] as number;
          const sameNeck = layer.positions[q]?.neck === position.neck;
          const [a, z] = [before.layer.grip[b] as number, layer.grip[c] as number];
          const sum =
            (so[b] as number) +
            (prices[q] as number) +
            (costs.picking[changedBits(a, z, sameNeck)] as number) +
            (costs.voices[semitonesBetween(before.layer, b, layer, c)] as number) +
            (stage.effort[c] as number);
          if (sum < (next[c] as number)) next[c] = sum;
        }
    });
    so = next;
  });
  return so.reduce((least, each) => Math.min(least, each), Infinity);
}

async function floor(): Promise<void> {
  const { progression } = readProgression(SIXTEEN);
  const e9 = builtIn('e9');
  const { question } = readyFor(e9, progression, noWishes(false));
  const took = await medians({
    floor: () => plainBest(question),
    arranged: () => arrange(e9, progression, noWishes(false), 1),
  });
  const [plain = NaN, arranged = NaN] = took.values();
  console.log(
    `e9, 16 chords, a plain dynamic program over the same candidates: ${ms(plain)}; arranged: ${ms(arranged)}, ${(plain / arranged).toFixed(1)} × as fast\n`,
  );
}

export async function ways(): Promise<void> {
  console.log('The best ways through a progression');
  const rows: string[][] = [];
  let times = 0;
  for (const [id, chords, most, wanted] of CASES) {
    const known = builtIn(id);
    const text = Array.from({ length: Math.ceil(chords / 16) }, () => SIXTEEN)
      .join(' | ')
      .split(' | ')
      .slice(0, chords)
      .join(' | ');
    const { progression } = readProgression(text);
    const took = await medians({
      // another name is another setup, of which nothing is known yet
      first: () => arrange({ ...known, name: String(++times) }, progression, noWishes(false), most),
    });
    const { searched } = arrange(known, progression, noWishes(false), most);
    const again = await medians({
      again: () => arrange(known, progression, noWishes(false), most),
    });
    rows.push([
      id,
      String(chords),
      String(most),
      searched.candidates.toLocaleString('en'),
      `10^${Math.round(searched.waysLog10)}`,
      ms([...took.values()][0] ?? NaN),
      ms([...again.values()][0] ?? NaN),
      wanted,
    ]);
  }
  print(
    ['setup', 'chords', 'best ways', 'candidates', 'ways there are', 'first', 'again', 'wanted'],
    rows,
  );
  console.log('');
  await floor();
}
