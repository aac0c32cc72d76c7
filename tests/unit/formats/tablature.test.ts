/**
 * Tablature, against lines written by hand. Where the chords lie on E9 is common practice of the trade:
 * C at fret 8 with nothing, F there with A+B (A raises 5 and 10, B 3 and 6), A minor there with A.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { Choice } from '$lib/setup/reach';
import { PAPERS, PAPER_MM } from '$lib/formats/drawing';
import { pdfBytes } from '$lib/formats/pdf';
import { tabDrawing } from '$lib/formats/tabDrawing';
import { tabText } from '$lib/formats/tabText';
import { tabColumns, type TabPiece, type TabStep, type TabVoicing } from '$lib/formats/tablature';
import { hasPoppler, pdfText } from './poppler';

const full = (...ids: string[]): Choice => ids.map((id) => ({ id, state: 'full' }));
const at = (
  fret: number,
  strings: readonly number[],
  engaged: Choice = [],
  neck = 1,
): TabVoicing => ({
  neck,
  strings,
  frets: strings.map(() => fret),
  engaged,
});
const piece = (...steps: TabStep[]): TabPiece => ({ title: '', setup: builtIn('e9'), steps });
const step = (chord: string, bar: number, voicing?: TabVoicing, beats = 4): TabStep => ({
  chord,
  bar,
  beats,
  ...(voicing ? { voicing } : {}),
});
/** The lines of one string, without the label. */
const onString = (text: string, string: number): string[] =>
  text.split('\n').flatMap((line) => {
    const match = new RegExp(`^${string} [A-G]♯? +(\\|?.*)$`).exec(line);
    return match ? [match[1] ?? ''] : [];
  });

describe('as text', () => {
  it('I–IV–I with the bar still: A and B move the held strings, the others ring on', () => {
    const text = tabText(
      piece(
        step('C', 1, at(8, [4, 5, 6])),
        step('F', 2, at(8, [4, 5, 6], full('A', 'B'))),
        step('C', 3, at(8, [4, 5, 6])),
      ),
    );
    expect(text).toBe(
      [
        '       C                F                C',
        '1 F♯ |----------------|----------------|----------------|',
        '2 D♯ |----------------|----------------|----------------|',
        '3 G♯ |----------------|----------------|----------------|',
        '4 E  |-8--------------|(8)-------------|(8)-------------|',
        '5 B  |-8--------------|~8A-------------|~8--------------|',
        '6 G♯ |-8--------------|~8B-------------|~8--------------|',
        '7 F♯ |----------------|----------------|----------------|',
        '8 E  |----------------|----------------|----------------|',
        '9 D  |----------------|----------------|----------------|',
        '10 B |----------------|----------------|----------------|',
        '',
        '~ a control moves the string as it rings   ( ) the string rings on',
        '',
      ].join('\n'),
    );
  });

  it('a bar that slides, up and down, with controls taken along', () => {
    // G at fret 3 with nothing; at 10 with A+B; C at 8
    const text = tabText(
      piece(
        step('G', 1, at(3, [3, 4, 5]), 2),
        step('G', 1, at(10, [3, 4, 5], full('A', 'B')), 2),
        step('C', 2, at(8, [3, 4, 5]), 2),
      ),
    );
    expect(onString(text, 3)).toEqual(['|-3------/10B----|\\8------|']);
    expect(onString(text, 4)).toEqual(['|-3------/10-----|\\8------|']);
    expect(onString(text, 5)).toEqual(['|-3------/10A----|\\8------|']);
    expect(text).toContain('/ and \\ the bar slides');
  });

  it('another grip is picked anew, strings that it shares ring on', () => {
    const text = tabText(
      piece(step('C', 1, at(8, [3, 4, 5]), 2), step('Am', 1, at(8, [5, 6, 8], full('A')), 2)),
    );
    expect(onString(text, 4)).toEqual(['|-8--------------|']);
    expect(onString(text, 5)).toEqual(['|-8------~8A-----|']);
    expect(onString(text, 6)).toEqual(['|---------8------|']);
    expect(onString(text, 8)).toEqual(['|---------8------|']);
  });

  it('strings that are said to be picked are picked, though both chords have them', () => {
    const steps = [step('C', 1, at(8, [4, 5])), { ...step('C', 2, at(8, [4, 5])), held: [5] }];
    const text = tabText(piece(...steps));
    expect(onString(text, 4)).toEqual(['|-8--------------|-8--------------|']);
    expect(onString(text, 5)).toEqual(['|-8--------------|(8)-------------|']);
  });

  it('nothing rings on over a rest or over what cannot be played', () => {
    const text = tabText(
      piece(
        step('C', 1, at(8, [4]), 2),
        step('N.C.', 1, undefined, 2),
        step('C', 2, at(8, [4]), 2),
      ),
    );
    expect(onString(text, 4)).toEqual(['|-8--------------|-8------|']);
    expect(text.split('\n')[0]).toMatch(/C +N\.C\. +C/);
  });

  const pickedAgain = piece(
    { ...step('C', 1, at(8, [4, 5])), again: [5] },
    step('F', 2, at(8, [4, 5], full('A'))),
  );

  it('what is picked again on the last beat has a number there, without a chord above it', () => {
    const text = tabText(pickedAgain);
    expect(onString(text, 5)).toEqual(['|-8-----------8--|~8A-------------|']);
    expect(onString(text, 4)).toEqual(['|-8--------------|(8)-------------|']);
    expect(text.split('\n')[0]).toMatch(/^ +C +F$/);
    expect(text).toContain('with no chord above: picked again');
    // without such a string the legend does not speak of it
    expect(tabText(piece(step('C', 1, at(8, [4]))))).not.toContain('picked again');
  });

  it('and so it has in the drawing, with a level stroke from there to where a control moves it', () => {
    const marks = tabDrawing(pickedAgain).pages.flatMap((page) => page.marks);
    const numbers = marks.flatMap((mark) =>
      mark.kind === 'text' && /^\(?8A?\)?$/.test(mark.text) ? [mark.text] : [],
    );
    expect(numbers.sort()).toEqual(['(8)', '8', '8', '8', '8A']);
    const words = marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : [])).join(' ');
    expect(words).toContain('picked again before it moves');
  });

  it('half-stops, splits and slants: the fret and the controls of every string of its own', () => {
    const setup = builtIn('e9');
    const split: Choice = full('A', 'LKV');
    const half: Choice = [{ id: 'RKR', state: 'half' }];
    const columns = tabColumns(
      piece(step('C', 1, at(3, [2, 9], half)), step('C', 2, at(3, [4, 5], split)), {
        ...step('G', 3),
        voicing: { neck: 1, strings: [3, 4, 5], frets: [4, 3, 3], engaged: [] },
      }),
    );
    const texts = columns.map(({ cells }) => cells.flatMap((cell) => (cell ? [cell.text] : [])));
    // RKR has a half-stop on string 2 alone; A raises 5 and LKV lowers it
    expect(texts).toEqual([
      ['3RKR½', '3'],
      ['3', '3A+LKV'],
      ['4', '3', '3'],
    ]);
    expect(setup.controls.find(({ id }) => id === 'RKR')?.pulls.length).toBe(2);
  });

  it('has sections, a title, and another staff for another neck', () => {
    const text = tabText({
      title: 'Low road',
      setup: builtIn('double'),
      steps: [
        { ...step('E', 1, at(0, [4, 5])), section: 'Verse' },
        step('C6', 2, at(0, [3, 4, 5, 6], [], 2)),
      ],
    });
    const lines = text.split('\n');
    expect(lines[0]).toBe('Low road');
    expect(lines[2]?.trim()).toBe('Verse');
    // E9 above, C6 below: their first strings are F♯ and G
    expect(lines.filter((line) => line.startsWith('1 '))).toEqual([
      expect.stringMatching(/^1 F♯/),
      expect.stringMatching(/^1 G /),
    ]);
  });

  it('is never wider than asked, and every number stands on it, however it is wrapped', () => {
    const bars = fc.array(
      fc.array(
        fc.tuple(fc.integer({ min: 0, max: 24 }), fc.constantFrom('C', 'F#m7b5', 'Bbmaj13')),
        {
          minLength: 1,
          maxLength: 5,
        },
      ),
      { minLength: 1, maxLength: 12 },
    );
    fc.assert(
      fc.property(bars, fc.integer({ min: 24, max: 120 }), (made, width) => {
        const steps = made.flatMap((chords, bar) =>
          chords.map(([fret, chord]) =>
            step(chord, bar + 1, at(fret, [4], full('C')), 4 / chords.length),
          ),
        );
        const text = tabText(piece(...steps), width);
        const lines = text.split('\n').slice(0, -2);
        for (const line of lines) expect([...line].length).toBeLessThanOrEqual(width);
        const numbers = onString(text, 4)
          .join('')
          .match(/\d+(?=C)/g)
          ?.map(Number);
        expect(numbers).toEqual(made.flat().map(([fret]) => fret));
        // a bar line before every bar, and one at the end of every line that ends with a bar
        const strings = onString(text, 4);
        const inner = strings.map((line) => line.replace(/\|$/, '')).join('');
        expect(inner.match(/\|/g)?.length).toBe(made.length);
        expect(strings.at(-1)).toMatch(/\|$/);
      }),
    );
  });

  it('of nothing is empty', () => {
    expect(tabText(piece()).trim()).toBe('');
  });
});

describe('on paper', () => {
  const long = piece(
    ...Array.from({ length: 64 }, (_, bar) =>
      step(bar % 2 ? 'F' : 'C', bar + 1, at(8, [4, 5, 6], bar % 2 ? full('A', 'B') : [])),
    ),
  );

  it.each(PAPERS)(
    'takes as many pages of %s as it needs, and stays between the margins',
    (paper) => {
      const drawing = tabDrawing({ ...long, title: 'A long road' }, paper);
      const [width, height] = PAPER_MM[paper];
      expect(drawing.pages.length).toBeGreaterThan(1);
      for (const page of drawing.pages) {
        expect([page.width, page.height]).toEqual([width, height]);
        for (const mark of page.marks) {
          if (mark.kind !== 'line') continue;
          for (const [x, y] of [mark.from, mark.to]) {
            expect(x).toBeGreaterThan(8);
            expect(x).toBeLessThan(width - 8);
            expect(y).toBeGreaterThan(8);
            expect(y).toBeLessThan(height - 8);
          }
        }
      }
      const chords = drawing.pages.flatMap((page) =>
        page.marks.flatMap((mark) =>
          mark.kind === 'text' && mark.weight === 'bold' && /^[CF]$/.test(mark.text)
            ? [mark.text]
            : [],
        ),
      );
      expect(chords.length).toBe(64);
    },
  );

  it('says that there is nothing yet', () => {
    expect(tabDrawing(piece()).pages.length).toBe(1);
  });

  it.skipIf(!hasPoppler)('prints the numbers with their controls', () => {
    const text = pdfText(pdfBytes(tabDrawing(long)));
    expect(text.match(/8A/g)?.length).toBe(32);
    expect(text.match(/\(8\)/g)?.length).toBe(63);
  });
});
