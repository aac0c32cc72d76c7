/**
 * The exact best ways through a progression of sixteen different chords, repeated to the length asked
 * for: the first time, when nothing is known of the setup yet, and again, as after a lock or a wish.
 */
import { arrange, readyFor } from '$lib/arrange/arrange';
import { readProgression } from '$lib/arrange/readText';
import { noWishes } from '$lib/arrange/wishes';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import { plainBest } from './floor';
import { medians, ms, print } from './measure';

const SIXTEEN =
  'G | Em7 | Am7 | D7 | Gmaj7 | C | Cm6 | D9 | Bm7 | F#m7b5 | B7 | A7 | Dsus4 | Ebdim7 | F | Bb';

const CASES: readonly (readonly [id: BuiltInId, chords: number, ways: number, wanted: string])[] = [
  ['e9', 16, 1, '100 ms'],
  ['e9', 16, 10, '100 ms'],
  ['universal12', 64, 10, '500 ms'],
  ['universal12', 200, 3, ''],
];

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
    const { question } = readyFor(known, progression, noWishes(false));
    const took = await medians({
      // another name is another setup, of which nothing is known yet
      first: () => arrange({ ...known, name: String(++times) }, progression, noWishes(false), most),
      again: () => arrange(known, progression, noWishes(false), most),
    });
    const { searched } = arrange(known, progression, noWishes(false), most);
    const [first = NaN, again = NaN] = took.values();
    // minutes for the longer ones: as often as needs be, and no more
    const floor = chords > 64 ? NaN : onceMs(() => plainBest(question));
    rows.push([
      id,
      String(chords),
      String(most),
      searched.candidates.toLocaleString('en'),
      `10^${Math.round(searched.waysLog10)}`,
      ms(first),
      ms(again),
      Number.isNaN(floor) ? '' : ms(floor),
      Number.isNaN(floor) ? '' : `${(floor / again).toFixed(1)} ×`,
      wanted,
    ]);
  }
  print(
    [
      'setup',
      'chords',
      'best ways',
      'candidates',
      'ways there are',
      'first',
      'again',
      'plain program',
      'as fast as it',
      'wanted',
    ],
    rows,
  );
}

/** Milliseconds of one run. */
function onceMs(job: () => unknown): number {
  const begun = performance.now();
  job();
  return performance.now() - begun;
}
