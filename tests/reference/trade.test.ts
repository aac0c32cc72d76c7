/**
 * Where the chords lie on E9 and C6: common practice of the trade, no published source. Fret f moves
 * every chord up by f semitones.
 */
import { describe, expect, it } from 'vitest';
import { chromaOfName } from '$lib/theory/pitch';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import { soundOf } from '$lib/answers/sound';
import type { Engaged } from '$lib/setup/setup';
import { ask, chordOf, wayText } from '../unit/search/asking';

const ROOTS = 'C Db D Eb E F F# G Ab A Bb B'.split(' ');

/** The controls of a row such as `A+LKL`; none for an empty text. */
const engaged = (way: string): Engaged[] =>
  way === '' ? [] : way.split('+').map((id): Engaged => ({ id, state: 'full' }));
/** A chord at fret 0 such as `F#m7`, moved up by a number of frets. */
function upBy(symbol: string, frets: number): string {
  const { root, type } = chordOf(symbol);
  return `${ROOTS[(chromaOfName(root) + frets) % 12]}${type}`;
}

type Row = readonly [chord: string, way: string, grips: readonly string[]];
const EVERYDAY = ['3-4-5', '4-5-6', '5-6-8', '6-8-10'];

const E9: readonly Row[] = [
  ['E', '', EVERYDAY],
  ['A', 'A+B', EVERYDAY],
  ['C#', 'A+LKL', EVERYDAY],
  ['C#m', 'A', EVERYDAY],
  ['F#m', 'B+C', ['3-4-5', '4-5-6', '3-4-5-6']],
  ['G#m', 'LKR', ['3-4-5', '4-5-6']],
  ['B7', 'B+LKR', ['4-5-6-7', '1-3-4-5', '4-5-6', '3-4-5']],
  ['E7', '', ['5-6-8-9', '6-8-9']],
  ['Fdim', 'LKL', EVERYDAY],
];

const C6: readonly Row[] = [
  ['C6', '', ['3-4-5-6', '2-3-4-5', '4-5-6-7']],
  ['Am7', '', ['3-4-5-6', '5-6-7-8']],
  ['Cmaj7', 'P4', ['3-4-5-6', '2-3-4-5']],
  ['D9', 'P5', ['6-7-8-9-10']],
  ['F9', 'P6', ['5-6-7-8-9']],
  ['Cmaj9', 'P7', ['3-4-5-6-7']],
  ['A7', 'P8', ['5-6-7-8', '5-6-7-10']],
  ['Cdim7', 'P5+P6', ['3-4-5-6']],
  ['D7b9', 'P5+P6', ['6-7-8-9-10']],
];

const rowsOf = (id: BuiltInId, rows: readonly Row[]) =>
  rows.flatMap(([chord, way, grips]) => grips.map((grip) => ({ id, chord, way, grip })));

describe('where the chords lie', () => {
  it.each([...rowsOf('e9', E9), ...rowsOf('c6', C6)])(
    '$id: $chord at fret 0 and so up the neck, with “$way” on $grip',
    ({ id, chord, way, grip }) => {
      const strings = grip.split('-').map(Number);
      const size = [strings.length, strings.length] as const;
      for (const fret of [0, 1, 5, 8, 12, 19]) {
        const asked = { strings, sizes: size, frets: [fret, fret] } as const;
        const ways = ask(builtIn(id), upBy(chord, fret), asked).map(({ voicing }) =>
          wayText(voicing.ways[0] ?? []),
        );
        expect(ways, `${upBy(chord, fret)} at fret ${fret}`).toContain(way);
      }
    },
  );
});

describe('what a position is called', () => {
  // the first name of the sound at fret 0, root and type (the bass is whatever string is lowest)
  it.each([
    ['e9', '', '3-4-5', 'E'],
    ['e9', 'A+B', '3-4-5', 'A'],
    ['e9', 'A+LKL', '4-5-6', 'C#'],
    ['e9', 'A', '4-5-6', 'C#m'],
    ['e9', 'B+C', '3-4-5', 'F#m'],
    ['e9', 'LKR', '3-4-5', 'G#m'],
    ['e9', 'B+LKR', '4-5-6-7', 'B7'],
    ['e9', '', '5-6-8-9', 'E7'],
    ['c6', 'P4', '3-4-5-6-7', 'Cmaj7'],
    ['c6', 'P5', '6-7-8-9-10', 'D9'],
    ['c6', 'P6', '5-6-7-8-9', 'F9'],
    ['c6', 'P7', '3-4-5-6-7', 'Cmaj9'],
    ['c6', 'P8', '5-6-7-8-10', 'A7'],
    ['c6', 'P5+P6', '6-7-8-9-10', 'D7b9'],
  ] as const)('%s with “%s” on %s is %s', (id, way, grip, symbol) => {
    const hold = {
      neck: 1,
      fret: 0,
      slant: 0,
      engaged: engaged(way),
      strings: grip.split('-').map(Number),
    };
    const [name] = soundOf(builtIn(id), hold).names;
    const { root, type } = chordOf(symbol);
    expect(name && { root: chromaOfName(name.root), type: name.type }).toEqual({
      root: chromaOfName(root),
      type,
    });
  });

  it('C6 with nothing is C6 or Am7, and LKL of E9 is a diminished triad', () => {
    const open = { neck: 1, fret: 0, slant: 0, engaged: [], strings: [3, 4, 5, 6] };
    const names = soundOf(builtIn('c6'), open).names.map(({ symbol }) => symbol.split('/')[0]);
    expect(names).toEqual(expect.arrayContaining(['C6', 'Am7']));
    const lowered = { neck: 1, fret: 0, slant: 0, engaged: engaged('LKL'), strings: [3, 4, 5] };
    expect(soundOf(builtIn('e9'), lowered).names[0]?.type).toBe('dim');
    const seventh = {
      neck: 1,
      fret: 0,
      slant: 0,
      engaged: engaged('P5+P6'),
      strings: [3, 4, 5, 6],
    };
    expect(soundOf(builtIn('c6'), seventh).names[0]?.type).toBe('dim7');
  });
});

describe('the check of sense (model, section 7): within an octave of frets on E9', () => {
  it.each(ROOTS.map((root, chroma) => [root, chroma] as const))(
    '%s major lies in three positions on all four everyday grips, and they lead the list',
    (root, chroma) => {
      const list = ask(builtIn('e9'), root, { frets: [0, 11], match: 'complete' });
      const gripsAt = new Map<string, Set<string>>();
      const inOrder: string[] = [];
      for (const { voicing } of list) {
        const [shown] = voicing.ways.map((way) => `${wayText(way)}@${voicing.fret}`);
        if (shown !== undefined && !inOrder.includes(shown)) inOrder.push(shown);
        for (const way of voicing.ways) {
          const position = `${wayText(way)}@${voicing.fret}`;
          gripsAt.set(
            position,
            (gripsAt.get(position) ?? new Set()).add(voicing.strings.join('-')),
          );
        }
      }
      const onAllFour = [...gripsAt]
        .filter(([, grips]) => EVERYDAY.every((grip) => grips.has(grip)))
        .map(([position]) => position);
      // E is chroma 4: nothing at f, A+LKL at f + 3, A+B at f + 7
      const f = (chroma - 4 + 12) % 12;
      const three = [`@${f}`, `A+LKL@${(f + 3) % 12}`, `A+B@${(f + 7) % 12}`];
      expect(onAllFour.sort()).toEqual(three.sort());
      expect(inOrder.slice(0, 3).sort()).toEqual(three.sort());
      expect(inOrder[0]).toBe(`@${f}`);
    },
  );
});
