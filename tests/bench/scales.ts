/** What lies under the hands on the universal twelve: pockets, ladders, passages, what leads on. */
import { leadsFrom } from '$lib/answers/leadsOn';
import { passagesFor } from '$lib/answers/passages';
import { scales, type ScaleAsked } from '$lib/answers/scaleView';
import { builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import { medians, ms, print } from './measure';

const SCALE = { scale: 'G mixolydian', neck: '1' } as const;
const pockets = (pocket: string): ScaleAsked => ({ what: 'pockets', texts: { ...SCALE, pocket } });
const ladder = (interval: string): ScaleAsked => ({
  what: 'ladder',
  texts: { ...SCALE, interval, way: 'both' },
});

const FROM = { neck: 1, fret: 3, slant: 0, strings: [4, 5, 6], engaged: [] } as const;

const CASES: readonly (readonly [string, (setup: Setup) => unknown])[] = [
  ...['0', '2', '3'].map(
    (frets) => [`pockets of ${frets}`, (setup: Setup) => scales(setup, pockets(frets))] as const,
  ),
  ...['thirds', 'sixths', 'tenths', 'octaves', 'triads'].map(
    (each) => [`ladder, ${each}`, (setup: Setup) => scales(setup, ladder(each))] as const,
  ),
  ['passages to F', (setup) => passagesFor(setup, { from: '3/-/4-5-6', to: 'F' })],
  ['what leads on', (setup) => leadsFrom(setup, FROM, 'C')],
];

export async function scaleAnswers(): Promise<void> {
  console.log('Scales on universal12, G mixolydian');
  const rows: string[][] = [];
  const known = builtIn('universal12');
  let times = 0;
  for (const [name, answer] of CASES) {
    const took = await medians({
      // another name is another setup, of which nothing is known yet
      first: () => answer({ ...known, name: String(++times) }),
      again: () => answer(known),
    });
    rows.push([name, ms(took.get('first') ?? NaN), ms(took.get('again') ?? NaN), '100 ms']);
  }
  print(['', 'first', 'again', 'wanted'], rows);
}
