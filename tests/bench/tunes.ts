/** Every note of a tune: the ten best lines of 200 notes, and a chord-melody of 64 measures, against a floor. */
import { bestWays } from '$lib/arrange/bestWays';
import { pieceOf } from '$lib/arrange/pieceOf';
import { readProgression } from '$lib/arrange/readText';
import { withMelody } from '$lib/arrange/melody';
import type { Piece } from '$lib/arrange/piece';
import type { Textures } from '$lib/arrange/texture';
import { arrangeTune, readyTune } from '$lib/arrange/tune';
import { noWishes } from '$lib/arrange/wishes';
import { builtIn } from '$lib/setup/builtIns';
import { plainBest } from './floor';
import { medians, ms, print } from './measure';

const CHORDS = ['C', 'Am', 'F', 'G', 'C', 'E7', 'Am', 'G7'];
const NOTES = ['G4 E4 F4 G4', 'A4 C5 A4 E4', 'A4 C5 A4 F4', 'G4 B4 D5 G4'].concat([
  'E5 D5 C5 G4',
  'G#4 B4 E5 D5',
  'C5 A4 F#4 A4',
  'G4 A4 B4 D5',
]);

/** Four quarters a measure. */
function tune(measures: number): Piece {
  const at = (list: readonly string[], each: number): string => list[each % list.length] ?? '';
  const over = Array.from({ length: measures }, (_, each) => each);
  const bars = over.map((each) => Array(4).fill(at(CHORDS, each)).join(' ')).join(' | ');
  const { progression } = readProgression(bars);
  return pieceOf(
    withMelody(progression, over.map((each) => at(NOTES, each)).join(' | ')).progression,
  );
}

const CASES: readonly (readonly [
  Textures['texture'],
  Textures['harmony'],
  number,
  number,
  string,
])[] = [
  ['line', 'changes', 50, 10, '1 s'],
  ['thirds', 'changes', 50, 10, ''],
  ['chord-melody', 'changes', 64, 10, '2 s'],
  ['chord-melody', 'every', 64, 10, '2 s'],
];

export async function tunes(): Promise<void> {
  console.log('Every note of a tune, on universal12, four notes to a measure');
  const rows: string[][] = [];
  const known = builtIn('universal12');
  const wishes = noWishes(false);
  let times = 0;
  for (const [texture, harmony, measures, most, wanted] of CASES) {
    const piece = tune(measures);
    const textures = { texture, harmony, measures: [] };
    const { question } = readyTune(known, piece, textures, wishes);
    const jobs = {
      // another name is another setup, of which nothing is known yet
      first: () => arrangeTune({ ...known, name: String(++times) }, piece, textures, wishes, most),
      again: () => arrangeTune(known, piece, textures, wishes, most),
      best: () => bestWays({ ...question, most: 1 }),
      floor: () => plainBest(question),
    };
    const took = await medians(jobs, 400, 8);
    const [first = NaN, again = NaN, best = NaN, floor = NaN] = took.values();
    rows.push([
      texture === 'chord-melody' ? `${texture}, ${harmony}` : texture,
      String(question.stages.length),
      String(most),
      ms(first),
      ms(again),
      ms(best),
      ms(floor),
      wanted,
    ]);
  }
  print(
    ['texture', 'moments', 'best ways', 'first', 'again', 'best alone', 'plain program', 'wanted'],
    rows,
  );
}
