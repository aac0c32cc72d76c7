/** Limits to where and how a chord may be played: each changes the rows as it says. */
import { describe, expect, it } from 'vitest';
import { exploring, lowToHigh, nameOf, type Exploring } from './exploring';

const fretOf = (name: string): number => Number(/ret (\d+)/.exec(name)?.[1]);
const stringsOf = (name: string): number[] =>
  (/strings ([\d ]+)/.exec(name)?.[1] ?? '').split(' ').map(Number);
/** The frets of the rows that begin in one of these ways, top to bottom. */
const fretsOf = (page: Exploring, begins: RegExp): number[] =>
  page.names.filter((name) => begins.test(name)).map(fretOf);

describe('a limit', () => {
  it('to the frets keeps the bar there', async () => {
    const page = await exploring();
    await page.explore.change({ frets: '1-5' });
    expect(page.address).toBe('frets=1-5');
    // of the three everyday positions of C (3, 8, 11) only A+B at 3 is left
    expect(page.names[0]).toMatch(/^Fret 3, A and B, /);
    for (const fret of page.names.map(fretOf)) expect([1, 2, 3, 4, 5]).toContain(fret);
  });

  it('to the strings at once gives grips of that size', async () => {
    const page = await exploring();
    await page.explore.change({ sizes: '4' });
    const sizes = page.allNames.map((name) => stringsOf(name).length);
    expect(new Set(sizes)).toEqual(new Set([4]));
  });

  it('to the note on top and in the bass is kept by every row', async () => {
    const page = await exploring();
    await page.explore.change({ top: 'G' });
    await page.explore.change({ bass: 'E' });
    expect(page.address).toBe('top=G&bass=E');
    const lowest = page.allRows.map(({ notes }) => nameOf(lowToHigh(notes).at(0) ?? ''));
    const highest = page.allRows.map(({ notes }) => nameOf(lowToHigh(notes).at(-1) ?? ''));
    expect([new Set(lowest), new Set(highest)]).toEqual([new Set(['E']), new Set(['G'])]);
    // an octave can be asked for as well
    await page.explore.change({ top: 'G4' });
    expect(new Set(page.allRows.map(({ notes }) => lowToHigh(notes).at(-1)))).toEqual(
      new Set(['G4']),
    );
  });

  it('to go without a control takes it out of every row', async () => {
    const page = await exploring();
    const before = page.names;
    expect(before.some((name) => name.includes('A and B'))).toBe(true);
    await page.explore.change({ without: 'B' });
    expect(page.allNames.length).toBeGreaterThan(0);
    expect(page.allNames.filter((name) => /\bB\b/.test(name))).toEqual([]);
    await page.explore.change({ without: '' });
    expect(page.names).toEqual(before);
    expect(page.address).toBe('');
  });

  it('to complete chords leaves none with a tone missing', async () => {
    const page = await exploring();
    expect(page.allRows.some(({ missing }) => missing.includes('5'))).toBe(true);
    await page.explore.change({ match: 'complete' });
    expect(page.allRows.flatMap(({ missing }) => missing)).toEqual([]);
    // C major is C, E and G, all of them
    const tones = page.allRows.map(({ notes }) => [...new Set(notes.map(nameOf))].sort().join(' '));
    expect(new Set(tones)).toEqual(new Set(['C E G']));
  });

  it('to some strings uses no others', async () => {
    const page = await exploring();
    // as they are ticked, one after another
    for (const grip of ['3', '3,4', '3,4,5']) await page.explore.change({ grip });
    expect(page.address).toBe('grip=3,4,5');
    expect(new Set(page.allNames.map((name) => stringsOf(name).join()))).toEqual(
      new Set(['3,4,5']),
    );
  });

  it('to where the bar is brings what lies near it to the top', async () => {
    // the same hands, nothing pressed, at 8 and an octave up are one position: it stands at the nearer fret
    const page = await exploring();
    const either = /ret (8|20), nothing/;
    expect(fretsOf(page, either)).toEqual([8]);
    await page.explore.change({ home: '20' });
    expect(fretsOf(page, either)).toEqual([20]);
  });

  it('of the balance makes pedals cheap or dear', async () => {
    // A+B at 3 costs the feet 1 and 0.6, and half a pedal more for a fret that is not the root's own
    const page = await exploring();
    const effort = (): number | undefined =>
      page.allRows.find(({ spoken }) => spoken.startsWith('Fret 3, A and B,'))?.effort;
    expect(effort()).toBeCloseTo(2.1, 9);
    await page.explore.change({ balance: 'feet=0' });
    expect(effort()).toBeCloseTo(0.5, 9);
  });

  it.each([
    [
      'frets',
      '30-40',
      'Frets: found “30-40”; allowed is a fret or a range such as 0-12, within 0-24.',
    ],
    [
      'sizes',
      '9',
      'Strings at once: found “9”; allowed is a number of strings or a range such as 3-4, within 1-6.',
    ],
    [
      'top',
      'H',
      'Note on top: found “H”; allowed is a note such as E4, or E for any octave; it is written the German way, whose B is B♭ here, and may mean B.',
    ],
    ['home', '-1', 'Start from fret: found “-1”; allowed is a fret, 0 to 24.'],
  ] as const)(
    '(%s) that cannot be read says what would be right and keeps the rows',
    async (part, text, sentence) => {
      const page = await exploring();
      const before = page.names;
      await page.explore.change({ [part]: text });
      expect(page.fault(part)).toBe(sentence);
      expect(page.names).toEqual(before);
      expect(before.length).toBeGreaterThan(0);

      await page.explore.change({ [part]: '' });
      expect(page.explore.faults).toEqual([]);
      expect(page.explore.texts).toEqual({ chord: 'C' });
    },
  );

  it('is dropped together with all the others', async () => {
    const page = await exploring();
    const everything = page.explore.list.findings?.count;
    await page.explore.change({ frets: '1-5' });
    await page.explore.change({ sizes: '4' });
    expect(page.address).toBe('frets=1-5&sizes=4');
    expect(page.explore.list.findings?.count).toBeLessThan(everything ?? 0);
    await page.explore.change({ frets: '', sizes: '', neck: '', match: '', balance: '' });
    expect(page.explore.list.findings?.count).toBe(everything);
    expect(page.written.at(-1)).toEqual({ text: '', entry: 'new' });
  });
});
