/** Tablature as lessons and messages have it, read as positions. */
import { expect, it } from 'vitest';
import { readTablature } from '$lib/formats/read/tablature';
import { engagedCode } from '$lib/setup/engagedText';
import { builtIn } from '$lib/setup/builtIns';
import { tabText } from '$lib/formats/tabText';
import type { TabStep, TabVoicing } from '$lib/formats/tablature';

function read(text: string, setup = builtIn('e9')): { positions: string[]; doubts: string[] } {
  const reading = readTablature(text, setup);
  if (!reading.ok) throw new Error(reading.error.found);
  const name = (neck: number): string =>
    setup.necks.length === 1 ? '' : `${setup.necks[neck - 1]?.name ?? ''} `;
  return {
    positions: reading.value.positions.map(({ neck, fret, engaged, strings }) =>
      `${name(neck)}${fret} ${engagedCode(engaged)} ${strings.join('-')}`.replace(/\s+/gu, ' '),
    ),
    doubts: reading.value.doubts.map(
      ({ where, found, read: said }) => `${where}: ${found}: ${said}`,
    ),
  };
}

it.each([
  ['string numbers', '3 --8---3B--\n4 --8---3---\n5 --8---3A--', ['8 3-4-5', '3 B,A 3-4-5']],
  [
    'a note at a time',
    '3 --8----------\n4 -----8F------\n5 ---------8A--',
    ['8 3', '8 LKL 4', '8 A 5'],
  ],
  ['names of notes', 'G#|--3B--|\nE |--3---|\nB |--3A--|', ['3 B,A 3-4-5']],
  ['lines', '8 A,B 3-4-5\n3 - 4-5-6\n0 RKR:half 2-3', ['8 A,B 3-4-5', '3 4-5-6', '0 RKR:half 2-3']],
  [
    'two staves, with words between',
    'Slowly\n3 --8--\n4 --8--\n\nand then\n\n5 --10A--\n6 --10B--',
    ['8 3-4', '10 A,B 5-6'],
  ],
])('%s', (name, text, meant) => {
  // F is the lever that raises the E strings; this setup calls it LKL
  const said = name === 'a note at a time' ? text.replace('8F', '8LKL') : text;
  expect(read(said)).toEqual({ positions: meant, doubts: [] });
});

/**
 * In habits that the reader was not written for, set down before it was run on them; at first the controls above
 * and those behind the strings were left out without a word, and the dots were refused.
 */
it.each([
  ['controls above', '      A+B\n3 ---5-----\n4 ---5-----\n5 ---5-----', ['5 A,B 3-4-5']],
  ['dots', '2 |..5RKR½..5RKR..|\n4 |..5.......5....|', ['5 RKR:half 2-4', '5 RKR 2-4']],
  [
    'fret, strings, controls',
    'Fret   Strings   Controls\n3      4,5,6\n3      3,4,5     A,B',
    ['3 4-5-6', '3 A,B 3-4-5'],
  ],
  ['no controls said', 'fret 3 A+B: 3-4-5\nFret 8 open: 4-5-6', ['3 A,B 3-4-5', '8 4-5-6']],
  ['ties and slides', '4 |--3~~~/5---|\n5 |--3A~~/5A--|', ['3 A 4-5', '5 A 4-5']],
  [
    'beats counted',
    '    1   2   3\n3 --10--12B-10--\n4 --10--12--10--\n5 --10--12A-10--',
    ['10 3-4-5', '12 B,A 3-4-5', '10 3-4-5'],
  ],
  ['bars', 'G#|--8---|-10--|\nE |--8---|-10--|', ['8 3-4', '10 3-4']],
  [
    'remarks behind',
    '3 |---8b---| let it ring\n4 |---8----|\n5 |---8a---| pick hard',
    ['8 B,A 3-4-5'],
  ],
])('in an unfamiliar habit: %s', (_, text, meant) => {
  expect(read(text)).toEqual({ positions: meant, doubts: [] });
});

/** A double neck: E9 first, C6 second; P5 and P6 pull on C6 alone, A and B on E9 alone. */
it.each([
  ['headings', 'E9 neck:\n4 --3--\n5 --3--\n\nC6\n3 --5--\n4 --5--', ['E9 3 4-5', 'C6 5 3-4']],
  ['headings over lists', 'Neck 2\n8 3-4-5\nOn the E9 neck\n8 3-4-5', ['C6 8 3-4-5', 'E9 8 3-4-5']],
  ['open notes', 'C |--5--|\nA |--5--|\nG |--5--|', ['C6 5 3-4-5']],
  ['open notes behind numbers', '3 C |--5--|\n4 A |--5--|', ['C6 5 3-4']],
  ['controls', '3 --5----\n5 --5P5--\n\n8 A,B 3-4-5', ['C6 5 P5 3-5', 'E9 8 A,B 3-4-5']],
])('on two necks, by %s', (_, text, meant) => {
  expect(read(text, builtIn('double'))).toEqual({ positions: meant, doubts: [] });
});
it('on two necks, and nothing says which: the first, which is told once', () => {
  expect(read('3 --5--\n4 --5--\n\n8 3-4-5', builtIn('double'))).toEqual({
    positions: ['E9 5 3-4', 'E9 8 3-4-5'],
    doubts: [
      'line 1: tablature that fits E9 and C6: for E9, here and where nothing says another; a line with the neck’s name above it does',
    ],
  });
});
it('reads what the program writes, chords above and all, on both necks', () => {
  const step = (chord: string, bar: number, voicing: TabVoicing): TabStep => ({
    chord,
    bar,
    beats: 4,
    voicing,
  });
  const full = (...ids: string[]) => ids.map((id) => ({ id, state: 'full' as const }));
  const text = tabText({
    title: 'Low road',
    setup: builtIn('double'),
    steps: [
      step('C', 1, { neck: 1, strings: [4, 5, 6], frets: [8, 8, 8], engaged: [] }),
      step('F', 2, { neck: 1, strings: [4, 5, 6], frets: [8, 8, 8], engaged: full('A', 'B') }),
      step('C6', 3, { neck: 2, strings: [3, 4, 5], frets: [0, 0, 0], engaged: [] }),
    ],
  });
  expect(read(text, builtIn('double'))).toEqual({
    positions: ['E9 8 4-5-6', 'E9 8 A,B 4-5-6', 'C6 0 3-4-5'],
    doubts: [],
  });
});

it('takes a letter that the setup does not use for the usual lever, and says so', () => {
  expect(read('4 --8F--\n8 --8---')).toEqual({
    positions: ['8 LKL 4-8'],
    doubts: ['line 1: F: LKL, which players usually call so, here and elsewhere'],
  });
});

it('tells lines that have to do with the strings and are not read', () => {
  expect(read('4 --8--\n5 --8--\n\nThen RKR on string 2, slowly')).toEqual({
    positions: ['8 4-5'],
    doubts: ['line 4: Then RKR on string 2, slowly: nothing: a line that could not be read'],
  });
});

it('ten lines without labels are the ten strings', () => {
  const lines = Array.from({ length: 10 }, (_, index) =>
    index >= 2 && index <= 4 ? '---5---7--' : '----------',
  );
  expect(read(lines.join('\n')).positions).toEqual(['5 3-4-5', '7 3-4-5']);
});

it('tells what it cannot read, and takes the rest', () => {
  expect(read('3 --8Q--\n4 --8---\n5 --9---')).toEqual({
    positions: ['8 3-4'],
    doubts: [
      'line 1: Q: nothing: the setup has no such control',
      'line 3: 9: nothing: the bar lies at fret 8 there',
    ],
  });
  // pedals A and C are no neighbours
  expect(read('8 A,C 4-5').doubts).toEqual([
    'line 1: A+C: no control: they cannot be engaged together',
  ]);
});

it.each([
  '',
  'Nothing to see here.',
  '-----\n-----\n',
  'C | F | G7 | C',
  '\0'.repeat(100),
  '1 '.repeat(5000),
])('refuses what is none: %j', (text) => {
  expect(readTablature(text, builtIn('e9')).ok).toBe(false);
});
