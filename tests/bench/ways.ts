/**
 * The exact best ways through a progression of sixteen different chords, repeated to the length asked
 * for: the first time, when nothing is known of the setup yet, and again, as after a lock or a wish.
 */
import { arrange } from '$lib/arrange/arrange';
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
];

export async function ways(): Promise<void> {
  console.log('The best ways through a progression');
  const rows: string[][] = [];
  let times = 0;
  for (const [id, chords, most, wanted] of CASES) {
    const known = builtIn(id);
    const text = Array.from({ length: chords / 16 }, () => SIXTEEN).join(' | ');
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
}
