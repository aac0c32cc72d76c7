/** The chord book: what stands in it sounds right, is found where the contents say, and fits its paper. */
import { expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import { bookOf } from '$lib/answers/book';
import { readBookQuestion, type BookQuestion, type BookTexts } from '$lib/answers/bookQuestion';
import type { PaperNeck } from '$lib/formats/book';
import { bookDrawing } from '$lib/formats/bookDrawing';
import type { Drawing, Page, TextMark } from '$lib/formats/drawing';
import { svgText } from '$lib/formats/svg';
import { callNotes } from '$lib/theory/noteNames';
import { golden } from '../../golden';

const e9 = builtIn('e9');

function asked(setup: Setup, texts: BookTexts): BookQuestion {
  const read = readBookQuestion(setup, texts);
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return read.value;
}
const gathered = (setup: Setup, texts: BookTexts) => bookOf(setup, asked(setup, texts));
/** A setup of three pedals, whose book is gathered soon. */
const few: Setup = { ...e9, controls: e9.controls.slice(0, 3) };
const textsOn = (page: Page | undefined): TextMark[] =>
  (page?.marks ?? []).filter((mark): mark is TextMark => mark.kind === 'text');
const wordsOn = (page: Page | undefined): string[] => textsOn(page).map(({ text }) => text);

/** Semitones above C of the letters (any textbook). */
const LETTERS = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 } as const;
/** Semitones above the root (any textbook of harmony). */
const CHORDS: Readonly<Record<string, readonly number[]>> = {
  major: [0, 4, 7],
  minor: [0, 3, 7],
  'dominant seventh': [0, 4, 7, 10],
  'minor seventh': [0, 3, 7, 10],
  'major seventh': [0, 4, 7, 11],
};
const DEGREES: Readonly<Record<string, number>> = {
  R: 0,
  '♭3': 3,
  '3': 4,
  '5': 7,
  '♭7': 10,
  '7': 11,
};

/** What a string sounds, by the numbers of the setup: the longest raise and the longest lowering add up. */
function sounds(setup: Setup, { neck, engaged }: PaperNeck, string: number, fret: number): number {
  const moves = engaged.flatMap(({ id, state }) =>
    (setup.controls.find((each) => each.id === id)?.pulls ?? [])
      .filter((pull) => pull.neck === neck && pull.string === string)
      .map((pull) => (state === 'half' ? (pull.half ?? pull.semitones) : pull.semitones)),
  );
  const open = setup.necks[neck - 1]?.strings[string - 1]?.open.midi ?? 0;
  return open + fret + Math.max(0, ...moves) + Math.min(0, ...moves);
}

it.each(['e9', 'lap6-c6', 'double'] as const)(
  'every position of %s sounds its chord, all of it but what it says is missing',
  (id) => {
    const setup = builtIn(id);
    const [chords] = gathered(setup, { parts: 'chords', key: 'G' }).sections;
    let seen = 0;
    for (const { name, necks } of chords?.groups ?? []) {
      const [, letter = 'C', sign = ''] = /^([A-G])([♯♭]?)/u.exec(name) ?? [];
      const root =
        LETTERS[letter as keyof typeof LETTERS] + ' ♯♭'.replace('♭', '').indexOf(sign || ' ');
      const tones = CHORDS[name.split(', ')[1] ?? ''] ?? [];
      for (const neck of necks) {
        seen++;
        const on = (part: 'grip' | 'more') =>
          neck.strings.flatMap((each, at) => {
            if (each.part !== part) return [];
            expect(each.pitch).toBe(sounds(setup, neck, at + 1, each.fret));
            const above = (((each.pitch - root) % 12) + 12) % 12;
            expect(DEGREES[each.tone]).toBe(above);
            return [above];
          });
        const missing = neck.missing.map((degree) => DEGREES[degree] ?? -1);
        const grip = new Set(on('grip'));
        expect(tones.filter((tone) => !grip.has(tone)).sort()).toEqual(missing.sort());
        for (const tone of [...grip, ...on('more')]) expect(tones).toContain(tone);
      }
    }
    expect(seen).toBeGreaterThan(20);
  },
);

it('the first ten positions are ten, and those of G are the three that every player learns', () => {
  const [first] = gathered(e9, { parts: 'first', key: 'G' }).sections;
  const necks = first?.groups.flatMap((each) => each.necks) ?? [];
  expect(necks).toHaveLength(10);
  // open at fret 3, A and B at 10, A and the lever that raises the E strings at 6 (common practice of the trade)
  expect(
    necks
      .filter(({ name }) => name === 'G (I)')
      .map(({ fret, engaged }) => [fret, engaged.map(({ id }) => id).join('+')]),
  ).toEqual([
    [3, ''],
    [10, 'A+B'],
    [6, 'A+LKL'],
  ]);
});

it('a chord of every type stands on all twelve roots where all keys are asked', () => {
  const [chords] = gathered(e9, {
    parts: 'chords',
    key: 'all',
    types: 'maj,m7',
    positions: '1',
  }).sections;
  const names = chords?.groups.map(({ name }) => name.split(',')[0]) ?? [];
  expect(names).toHaveLength(24);
  expect(new Set(names).size).toBe(24);
});

/** Where the contents say that something begins. */
function entries(drawing: Drawing): { words: string; page: number }[] {
  const [first] = drawing.pages;
  const marks = textsOn(first);
  return marks
    .filter(({ align, text }) => align === 'end' && /^\d+$/.test(text))
    .map((number) => {
      const words = marks
        .filter((each) => each.y === number.y && each.align === 'start' && each.x < number.x)
        .at(-1);
      return { words: words?.text ?? '', page: Number(number.text) };
    });
}

it.each([
  // ISO 216, and 8.5 by 11 inches
  ['A4', 210, 297],
  ['Letter', 215.9, 279.4],
] as const)(
  'on %s everything is where the contents say, and inside the page',
  (paper, wide, high) => {
    const texts = { key: 'G', types: 'maj,m,7,m7', ladders: 'thirds', scales: 'major' };
    const drawing = bookDrawing(gathered(few, texts), paper);
    const listed = entries(drawing);
    // five sections; three majors, three minors, one seventh, three minor sevenths in G; three pedals
    expect(listed).toHaveLength(5 + 10 + 3 + 1 + 1);
    for (const { words, page } of listed) {
      expect(wordsOn(drawing.pages[page - 1])).toContain(words);
      expect(wordsOn(drawing.pages[page - 1])).toContain(`${page} of ${drawing.pages.length}`);
    }
    for (const { width, height, marks } of drawing.pages) {
      expect([width, height]).toEqual([wide, high]);
      for (const mark of marks)
        if (mark.kind === 'text') {
          expect(mark.x).toBeGreaterThanOrEqual(13);
          expect(mark.y).toBeLessThanOrEqual(high - 13);
        }
    }
  },
);

it('follows the names of notes that the reader has chosen', () => {
  const texts = { parts: 'chords', key: 'E', types: 'maj', positions: '1' };
  try {
    callNotes(() => 'german');
    // H is B natural in German
    expect(gathered(e9, texts).sections[0]?.groups.map(({ name }) => name)).toContain('H, major');
    callNotes(() => 'solfege');
    expect(gathered(e9, texts).sections[0]?.groups.map(({ name }) => name)).toContain('Si, major');
  } finally {
    callNotes(() => 'letters');
  }
});

it('refuses what it cannot hold, each under its option', () => {
  const read = readBookQuestion(e9, {
    parts: 'songs',
    types: 'maj,zzz',
    key: 'X',
    positions: '99',
  });
  expect(read.ok ? [] : read.error.map(({ path }) => path)).toEqual([
    'parts',
    'types',
    'key',
    'positions',
  ]);
});

it('the page of the first positions, drawn', async () => {
  const { pages, title } = bookDrawing(gathered(e9, { parts: 'first', key: 'G' }));
  const file = svgText({ title, pages: pages.slice(1, 2) });
  await golden(file.replace(/(?<=url\(data:font\/\w+;base64,)[^)]+/gu, 'FONT'), 'book-first.svg');
});
