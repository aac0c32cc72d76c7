/** A chord put behind what is written, so that the reader finds it there. */
import { expect, it } from 'vitest';
import { stepsOf } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { addedIn, withChord } from '$lib/ui/arrange/adding';

const symbols = (text: string): string[] =>
  stepsOf(readProgression(text).progression).map(({ chord }) =>
    chord === 'no chord' ? 'N.C.' : chord.symbol,
  );

it.each([
  '',
  'G | C',
  'G | C |\n\n',
  'title: Low tide',
  'G | C\nkey: G',
  '[Verse]',
  '[Verse]\nG | C:E4',
  'G | C\nmelody: D4 | E4',
  'G | Am7(b5',
])('%j has one chord more, the last, and no other fault', (text) => {
  const added = withChord(text, 'C#m7');
  expect(symbols(added)).toEqual([...symbols(text), 'C#m7']);
  expect(readProgression(added).faults.length).toBeLessThanOrEqual(
    readProgression(text).faults.length,
  );
});

it('an address adds one symbol, and nothing that would be more', () => {
  const of = (add: string) => addedIn(new URLSearchParams({ add, 'add-hold': '3//3-4-5' }));
  expect(of('Am7')).toEqual({ symbol: 'Am7', hold: '3//3-4-5' });
  for (const add of ['', ' ', 'C | D', 'C D', 'C|D', 'C\nkey: G', 'C'.repeat(31)])
    expect(of(add), add).toBeUndefined();
});
