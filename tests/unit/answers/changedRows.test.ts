/** Rows of a change: what they begin with, and which come first. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { readControl } from '$lib/setup/controlText';
import { withControl } from '$lib/setup/proposal';
import { rows } from '$lib/answers/change';
import { holdWords, moveText } from '$lib/answers/moveText';

const e9 = builtIn('e9');
const full = (id: string) => ({ id, state: 'full' as const });

describe('a row of a change begins with the move', () => {
  it('says what is engaged by kind', () => {
    expect(holdWords(e9, [])).toBe('with nothing engaged');
    expect(holdWords(e9, [full('RKR')])).toBe('with one lever');
    expect(holdWords(e9, [full('A'), full('B')])).toBe('with two pedals');
    expect(holdWords(e9, [full('A'), full('LKL'), full('RKL')])).toBe(
      'with one pedal and two levers',
    );
  });

  it('says what it took and takes', () => {
    expect(moveText(e9, [full('RKL')], 1.6, 2.3, 1)).toBe('with one lever, 2.3 → 1.6');
    expect(moveText(e9, [full('RKL')], 1.25, undefined, 2)).toBe('with one lever, 1.25');
  });
});

it('rows of what changes have the most used chords first: major before minor before the rest', () => {
  const read = readControl(e9, 'RKV:5-1,6-1');
  const control = read.ok ? read.value : undefined;
  const after = control === undefined ? e9 : withControl(e9, control);
  const { rows: gained } = rows(e9, after, 'gained', 0, 400);
  const first = (type: string): number => gained.findIndex(({ chord }) => chord.type === type);
  // in the annotations that weigh the repertoire major is the commonest type, and minor the next
  expect(first('')).toBe(0);
  for (const rare of ['aug', '7#9', 'm9', 'maj9', 'dim'])
    if (first(rare) >= 0) expect(first('m'), rare).toBeLessThan(first(rare));
});
