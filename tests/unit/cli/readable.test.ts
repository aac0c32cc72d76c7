/**
 * Answers for people. The whole texts stand in `tests/golden/`; what they must hold is said here from
 * outside.
 */
import { expect, it } from 'vitest';
import { golden } from '../../golden';
import { text } from './calling';

/** Cells of a table's line; columns stand two spaces apart. */
const cells = (line: string) => line.trim().split(/\s{2,}/);
const rows = (answer: string) => answer.split('\n').map(cells);

it('voicings of C on E9', async () => {
  const answer = await text(['voicings', '--chord', 'C']);
  await golden(answer, 'voicings-c-on-e9.txt');
  expect(answer).toContain('searched 96 combinations of controls, 792,000 candidates');
  // fret 8, nothing pressed: E major raised by eight; G#4, E4, B3 give E5, C5, G4
  expect(rows(answer)).toContainEqual(['8', '–', '3-4-5', 'E5 C5 G4', '3 R 5', '0.00', '20']);
  // A+LKL at f+3 and A+B at f+7, an octave down: the positions everyone learns (the trade)
  const hands = rows(answer).map(([fret, controls]) => `${fret} ${controls}`);
  expect(hands).toEqual(expect.arrayContaining(['8 –', '11 A+LKL', '3 A+B']));
});

it('voicings of F9 on E9', async () => {
  const answer = await text(['voicings', '--chord', 'F9']);
  await golden(answer, 'voicings-f9-on-e9.txt');
  expect(answer).toMatch(/^F9: F \(R\) A \(3\) C \(5\) E♭ \(♭7\) G \(9\)\n/);
  // fret 1, strings 5, 6, 7, 9: B3, G#3, F#3, D3 up one are C, A, G, E flat; the root is left out
  expect(rows(answer).map((row) => row.slice(0, 6))).toContainEqual([
    '1',
    '–',
    '5-6-7-9',
    'C4 A3 G3 E♭3',
    '5 3 9 ♭7',
    'R',
  ]);
});

it('voicings with a slanted bar, and on two necks', async () => {
  const slanted = await text(['voicings', '--chord', 'C', '--setup', 'lap6-c6', '--limit', '8']);
  await golden(slanted, 'voicings-c-on-lap6-c6.txt');
  // open strings 4, 5, 6 are G3, E3, C3
  expect(rows(slanted)).toContainEqual(['0', '–', '4-5-6', 'G3 E3 C3', '5 3 R', '0.00', '12 24']);
  const double = await text(['voicings', '--chord', 'C', '--setup', 'double', '--limit', '8']);
  await golden(double, 'voicings-c-on-double.txt');
  expect(rows(double)).toContainEqual([
    '2',
    '0',
    '–',
    '1-2-3',
    'G4 E4 C4',
    '5 3 R',
    '0.00',
    '12 24',
  ]);
});

it('nothing found, and what would work instead', async () => {
  const answer = await text(['voicings', '--chord', 'Cmaj13', '--match', 'complete']);
  await golden(answer, 'nothing-found.txt');
  expect(answer).toContain('0 voicings');
  // six tones do not fit on four strings: they do on six, or with tones left out
  expect(answer).toMatch(/--match partial/);
  expect(answer).toMatch(/--sizes 3-6/);
});

it('names', async () => {
  const args = ['name', '--fret', '3', '--controls', 'A,B', '--strings', '3,4,5'];
  const answer = await text(args);
  await golden(answer, 'name-c.txt');
  expect(answer).toMatch(/^fret 3, A\+B; strings 3: C5 {2}4: G4 {2}5: E4\n/);
  expect(rows(answer)).toContainEqual(['C/E', 'major']);
  // under a slant both ends of the bar are told
  const slanted = await text(['name', '--fret', '3', '--slant', '1', '--strings', '4,5']);
  expect(slanted).toMatch(/^fret 3\/4, nothing engaged; /);
});

it('setups', async () => {
  const answer = await text(['setups']);
  await golden(answer, 'setups.txt');
  expect(answer).toContain('e9 · E9: F♯4 D♯4 G♯4 E4 B3 G♯3 F♯3 E3 D3 B2\n');
});

it('a good setup, and one of everything is said in the singular', async () => {
  expect(await text(['check', 'shared/setups/e9.json'])).toMatch(
    /^shared\/setups\/e9\.json is a good setup: .* 8 controls, 96 reachable combinations\.\n$/,
  );
  const one = ['--setup', 'lap6-c6', '--frets', '0', '--grip', '4,5,6', '--sizes', '3'];
  // C3, E3 and G3 on one grip at one fret
  expect(await text(['voicings', '--chord', 'C', ...one])).toMatch(
    /^1 voicing on .* 1 combination of/m,
  );
});
