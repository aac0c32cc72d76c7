/** What leads on from a position: what players know of it, and how it is asked. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { HOLD } from '$lib/answers/holdOption';
import { leadsFrom } from '$lib/answers/leadsOn';
import { engagedText } from '$lib/setup/engagedText';
import { json, call } from '../cli/calling';

const e9 = builtIn('e9');
const at = (text: string) => {
  const hold = HOLD.read(text, e9);
  if (hold === undefined) throw new Error(text);
  return hold;
};
const by = (text: string, key?: string) =>
  leadsFrom(e9, at(text), key).chords.map(({ of, voicing, changes }) => [
    of.numeral,
    changes,
    engagedText(voicing.ways[0] ?? []),
  ]);

describe('from an open major chord on an E9', () => {
  // common practice of the trade: A alone is the relative minor, A and B together the fourth degree,
  // B and C together the second, and none of them moves the bar
  it('A is the sixth, A and B the fourth, B and C the second', () => {
    const chords = by('8/-/4-5-6');
    expect(chords).toContainEqual(['vi', 1, 'A']);
    expect(chords).toContainEqual(['IV', 2, 'A+B']);
    expect(chords).toContainEqual(['ii', 2, 'B+C']);
  });
  // the levers that lower the Es make the third degree of the same three strings, with B the dominant seventh
  // (common practice); other strings give the third degree without a control, which is told before
  it('the lever that lowers the Es is the third, although other strings have it too', () => {
    const thirds = by('8/-/4-5-6').filter(([numeral]) => numeral === 'iii');
    expect(thirds).toEqual([
      ['iii', 0, ''],
      ['iii', 1, 'LKR'],
    ]);
  });
  it('and from the fourth back home is to release both', () => {
    expect(by('8/A,B/4-5-6', 'C')).toContainEqual(['I', 2, '']);
  });
});

describe('from an open sixth chord on a C6', () => {
  // common practice of the trade: P6 makes the fourth degree of the strings that are held, P7 the fifth
  it('P6 is the fourth, P7 the fifth', () => {
    const c6 = builtIn('c6');
    const hold = HOLD.read('0/-/2-3-4-5', c6);
    if (hold === undefined) throw new Error('a hold');
    const chords = leadsFrom(c6, hold, 'C').chords.map(({ of, changes, voicing }) => [
      ...[of.numeral, changes, engagedText(voicing.ways[0] ?? [])],
    ]);
    expect(chords).toContainEqual(['IV', 1, 'P6']);
    expect(chords).toContainEqual(['V', 1, 'P7']);
  });
});

it('counts in the key of the chord where none is asked', () => {
  expect(leadsFrom(e9, at('8/-/4-5-6')).key).toMatchObject({ mode: 'major' });
  expect(leadsFrom(e9, at('8/A/4-5-6')).key).toMatchObject({
    tonic: { letter: 'A' },
    mode: 'minor',
  });
  expect(leadsFrom(e9, at('8/-/4-5-6'), 'F').key).toMatchObject({ tonic: { letter: 'F' } });
});

describe('the job next', () => {
  it('tells the chords, and the position as it is written', async () => {
    const told = await json<{ from: string; key: string; chords: { symbol: string }[] }>([
      ...['next', '--from', '3/A,B/5-3-4', '--key', 'G'],
    ]);
    expect(told).toMatchObject({ from: '3/A,B/3-4-5', key: 'G' });
    expect(told.chords.map(({ symbol }) => symbol)).toContain('G');
  });
  it('refuses what is no position, and one that nobody can take', async () => {
    expect(await call(['next', '--from', 'there'])).toMatchObject({ code: 2 });
    for (const text of ['99/-/3-4-5', '3/A,Q/3-4-5', '3/A,C/3-4-5', '3/-/3-4-55'])
      expect(await call(['next', '--from', text])).toMatchObject({ code: 1 });
  });
});
