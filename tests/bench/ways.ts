/** The exact best ways through a progression: everyday changes, repeated to the length asked for. */
import { arrange } from '$lib/arrange/arrange';
import { readProgression } from '$lib/arrange/readText';
import { noWishes } from '$lib/arrange/wishes';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import { medians, ms, print } from './measure';

const EIGHT = 'G | Em7 | Am7 | D7 | Gmaj7 | C | Cm6 | D9';

const CASES: readonly (readonly [id: BuiltInId, chords: number, ways: number, wanted: string])[] = [
  ['e9', 16, 1, '100 ms'],
  ['e9', 16, 10, '100 ms'],
  ['universal12', 64, 10, '500 ms'],
];

export async function ways(): Promise<void> {
  console.log('The best ways through a progression');
  const rows: string[][] = [];
  for (const [id, chords, most, wanted] of CASES) {
    const setup = builtIn(id);
    const text = Array.from({ length: chords / 8 }, () => EIGHT).join(' | ');
    const { progression } = readProgression(text);
    const took = await medians({
      ways: () => arrange(setup, progression, noWishes(false), most),
    });
    const { searched } = arrange(setup, progression, noWishes(false), most);
    rows.push([
      id,
      String(chords),
      String(most),
      searched.candidates.toLocaleString('en'),
      `10^${Math.round(searched.waysLog10)}`,
      ms([...took.values()][0] ?? NaN),
      wanted,
    ]);
  }
  print(['setup', 'chords', 'best ways', 'candidates', 'ways there are', 'took', 'wanted'], rows);
  console.log('');
}
