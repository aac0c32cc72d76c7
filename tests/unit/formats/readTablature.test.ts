/** Tablature as lessons and messages have it, read as positions. */
import { expect, it } from 'vitest';
import { readTablature } from '$lib/formats/read/tablature';
import { engagedCode } from '$lib/setup/engagedText';
import { builtIn } from '$lib/setup/builtIns';

function read(text: string): { positions: string[]; doubts: string[] } {
  const reading = readTablature(text, builtIn('e9'));
  if (!reading.ok) throw new Error(reading.error.found);
  return {
    positions: reading.value.positions.map(({ fret, engaged, strings }) =>
      `${fret} ${engagedCode(engaged)} ${strings.join('-')}`.replace(/\s+/gu, ' '),
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
    'line 1: A+C: no control: they cannot be held together',
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
