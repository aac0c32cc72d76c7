/** How the bench sheet fills its pages: none is empty, nothing is lost on the way, nothing runs over. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import { STRING_CAUTIONS } from '$lib/strings/cautions';
import { benchSheet } from '$lib/formats/benchSheet';
import { MM_PER_POINT, PAPERS, type Drawing, type Mark, type Paper } from '$lib/formats/drawing';
import { chartOf } from '$lib/formats/sheetChart';
import { sheetFigures } from '$lib/formats/sheetFigures';
import type { SheetExtras } from '$lib/formats/sheetExtras';
import { runs } from '../../battery';
import { largeSetup } from '../../property/generators';

type Page = Drawing['pages'][number];

const textsOf = ({ marks }: Page): string[] =>
  marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []));

/** The lowest point of a mark in millimetres from the upper edge; letters go a little below their line. */
function lowest(mark: Mark): number {
  if (mark.kind === 'text') return mark.y + 0.22 * mark.sizePt * MM_PER_POINT;
  if (mark.kind === 'line') return Math.max(mark.from[1], mark.to[1]);
  if (mark.kind === 'path')
    return Math.max(
      ...mark.steps.flatMap((step) => step.filter((_, at) => at > 0 && at % 2 === 0)).map(Number),
    );
  return mark.y + (mark.kind === 'box' ? mark.height : mark.radius);
}

/** What stands on a page, without the rule and the words at its foot. */
function bodyOf(page: Page): Mark[] {
  const foot = Math.max(...page.marks.flatMap((mark) => (mark.kind === 'text' ? [mark.y] : [])));
  return page.marks.filter((mark) => lowest(mark) < foot - 3.9);
}

/** Every word of the drawing's texts in their order, but for those at the feet of pages. */
const wordsOf = (drawing: Drawing): string =>
  drawing.pages
    .flatMap((page) => textsOf({ ...page, marks: bodyOf(page) }))
    .join(' ')
    .replace(/\s+/g, ' ');

function expectWellFilled(setup: Setup, paper: Paper, extras: SheetExtras): void {
  const drawing = benchSheet(setup, { paper, extras });
  const charts = setup.necks.map((_, index) => chartOf(setup, index + 1, extras));

  for (const [index, page] of drawing.pages.entries()) {
    const body = bodyOf(page);
    // the title and the line of facts alone are no page: the first one has a string of the chart too
    const least =
      index === 0 ? textsOf(page).filter((each) => /^\d+$/.test(each)).length : body.length;
    expect(
      least,
      `page ${index + 1} of ${drawing.pages.length} has something on it`,
    ).toBeGreaterThan(0);
    const foot = Math.max(...page.marks.map((mark) => (mark.kind === 'text' ? mark.y : 0)));
    // the rule over the foot lies 4 mm above its words
    for (const mark of page.marks) {
      const low = lowest(mark);
      const atFoot =
        mark.kind === 'text' ? mark.y === foot : low >= foot - 4.001 && low <= foot - 3.999;
      if (!atFoot) expect(low, JSON.stringify(mark)).toBeLessThanOrEqual(foot - 4);
    }
  }

  // every string has its row, every pull its cell, and every figure its place
  const counts = new Map<string, number>();
  for (const text of drawing.pages.flatMap(textsOf)) counts.set(text, (counts.get(text) ?? 0) + 1);
  const wanted = charts.flatMap(({ strings, groups, feet }) => [
    ...strings.flatMap(({ number, further }) => [String(number), ...further]),
    ...groups.flatMap(({ stations }) =>
      stations.flatMap(({ cells }) =>
        cells.flatMap((cell) => (cell ? [cell.note, cell.semitones, ...cell.further] : [])),
      ),
    ),
    ...feet.flatMap(({ texts }) => [...texts.values()]),
  ]);
  const wantedCounts = new Map<string, number>();
  for (const text of wanted)
    if (text !== '') wantedCounts.set(text, (wantedCounts.get(text) ?? 0) + 1);
  for (const [text, count] of wantedCounts)
    expect(counts.get(text) ?? 0, `“${text}” on the sheet`).toBeGreaterThanOrEqual(count);

  const words = wordsOf(drawing);
  for (const { notes } of [setup, ...setup.necks, ...setup.controls])
    if (notes !== undefined) expect(words).toContain(notes);
  for (const { meaning } of extras.pulls ?? []) expect(words).toContain(meaning);
  // the sheet's own wording of the first caution, and the technician of the second
  expect(STRING_CAUTIONS[0]).toContain('break without warning');
  expect(words).toMatch(/can break without warning.*qualified instrument technician/);
}

const CASES = BUILT_IN_IDS.flatMap((id) =>
  PAPERS.flatMap((paper) => [
    { id, paper, figures: false },
    { id, paper, figures: true },
  ]),
);

describe('the pages of the bench sheet', () => {
  it.each(CASES)(
    'are filled for $id on $paper, with figures: $figures',
    ({ id, paper, figures }) => {
      const setup = builtIn(id);
      expectWellFilled(setup, paper, figures ? sheetFigures(setup) : {});
    },
  );

  it('are filled for any setup', () => {
    fc.assert(
      fc.property(largeSetup, fc.constantFrom(...PAPERS), fc.boolean(), (setup, paper, figures) => {
        expectWellFilled(setup, paper, figures ? sheetFigures(setup) : {});
      }),
      { numRuns: runs(60) },
    );
  });

  // the sheet of the universal twelve with its figures began with a page of nothing but the title
  it.each(PAPERS)('have the chart of the universal twelve whole on the first, on %s', (paper) => {
    const setup = builtIn('universal12');
    const [first] = benchSheet(setup, { paper, extras: sheetFigures(setup) }).pages;
    const numbers = first ? textsOf(first).filter((each) => /^\d+$/.test(each)) : [];
    expect(numbers).toEqual(
      expect.arrayContaining(Array.from({ length: 12 }, (_, i) => `${i + 1}`)),
    );
  });
});
