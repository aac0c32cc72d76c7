/** A chord book on paper: a first page with its contents, then a chapter a section, every page with its number. */
import { line, text, type Drawing, type Mark, type Paper } from './drawing';
import type { Book, BookSection, NeckGroup, PaperNeck } from './book';
import { neckMarks, neckMm } from './neckDrawing';
import { PaperFlow } from './paperFlow';
import { drawCode, type SheetCode } from './sheetCode';
import { TAB_LEGEND, drawTab } from './tabDrawing';
import { cut, widthMm } from './type/setting';

/** Necks side by side. */
const COLUMNS = 4;
const BETWEEN_ROWS_MM = 4;
const TITLE_PT = 22;
const SECTION_PT = 17;
const GROUP_PT = 11.5;
const WORDS_PT = 9;
const ENTRY_PT = 9.5;
const ENTRY_MM = 5;
const CONTENTS_COLUMNS = 2;
const GUTTER_MM = 9;

const HOW_TO_READ =
  'String 1 is at the top, as it lies farthest from the player. Black: the grip named first. White: strings of the other grips. Beside each string the note that sounds, and the semitones by which pedals and levers move it. Below: the grips, what is left out, and the effort, of which 1.00 is one easy pedal press.';

interface Entry {
  readonly words: string;
  readonly isSection: boolean;
  page: number;
}

/** What the contents list: the sections, and in each its groups where they have names of their own. */
function entriesOf({ sections }: Book): Entry[] {
  return sections.flatMap(({ title, groups }): Entry[] => [
    { words: title, isSection: true, page: 0 },
    ...groups.flatMap(({ name }) =>
      name === '' ? [] : [{ words: name, isSection: false, page: 0 }],
    ),
  ]);
}

/** The necks of a group in rows; a row is not torn apart. */
function drawNecks(flow: PaperFlow, necks: readonly PaperNeck[], widthOf: number): void {
  for (let from = 0; from < necks.length; from += COLUMNS) {
    const row = necks.slice(from, from + COLUMNS);
    const height = rowMm(row);
    flow.need(height);
    row.forEach((neck, at) =>
      flow.add(...neckMarks(neck, flow.left + at * widthOf, flow.y, widthOf - 3)),
    );
    flow.y += height + BETWEEN_ROWS_MM;
  }
}

const rowMm = (row: readonly PaperNeck[]): number =>
  Math.max(0, ...row.map(({ strings }) => neckMm(strings.length)));

/** A group below what stands on the page; tells the number of the page on which its heading stands. */
function drawGroup(flow: PaperFlow, group: NeckGroup): number {
  const { name, aside = '', words, necks, tab, after } = group;
  const first = rowMm(necks.slice(0, COLUMNS));
  const paragraphs = words.reduce((sum, each) => sum + flow.heightOf(each, WORDS_PT), 0);
  // a heading stays with the first of what it speaks of
  const staff = tab === undefined ? 0 : tabMm(tab.setup.necks[0]?.strings.length ?? 10);
  const whole = 8 + paragraphs + first + staff;
  flow.need(whole <= flow.pageMm ? whole : 8 + paragraphs + (necks.length > 0 ? first : staff));
  const page = flow.page;
  if (name !== '') {
    flow.words(name, GROUP_PT, { weight: 'bold' });
    const beside = flow.left + widthMm(name, GROUP_PT, 'bold') + 4;
    if (aside !== '')
      flow.add(
        text(beside, flow.y - 1.45, cut(aside, WORDS_PT, flow.right - beside), WORDS_PT, {
          grey: true,
        }),
      );
    flow.y += words.length > 0 ? 0.6 : 1.6;
  }
  for (const each of words) flow.words(each, WORDS_PT);
  if (words.length > 0) flow.y += 2;
  drawNecks(flow, necks, flow.span / COLUMNS + 3 / COLUMNS);
  if (tab !== undefined) drawTab(flow, tab);
  if (after !== undefined) {
    flow.words(after, 7.5, { grey: true });
    flow.y += 3;
  }
  flow.y += 1;
  return page;
}

/** About a staff of tablature with what stands above it. */
const tabMm = (strings: number): number => 12 + strings * 4.2;

/** A section from the head of a page on; tells on which page each of its entries begins. */
function drawSection(flow: PaperFlow, section: BookSection, entries: Entry[]): void {
  flow.turn();
  const own = entries.shift();
  if (own !== undefined) own.page = flow.page;
  flow.words(section.title, SECTION_PT, { weight: 'bold' });
  flow.y += 0.5;
  for (const each of section.words) flow.words(each, WORDS_PT);
  flow.y += 4;
  for (const group of section.groups) {
    const page = drawGroup(flow, group);
    const entry = group.name === '' ? undefined : entries.shift();
    if (entry !== undefined) entry.page = page;
  }
  if (section.groups.some(({ tab }) => tab !== undefined))
    flow.words(TAB_LEGEND, 7.5, { grey: true });
}

/** Title, what the book is about, and how it is read. */
function drawHead(flow: PaperFlow, { title, about, setup }: Book): void {
  flow.words(title, TITLE_PT, { weight: 'bold' });
  flow.y += 0.6;
  flow.words(setup.name, 12, { weight: 'bold' });
  flow.y += 0.4;
  flow.words(about, WORDS_PT);
  flow.y += 2.5;
  flow.words(HOW_TO_READ, WORDS_PT, { grey: true });
  flow.y += 5;
  flow.words('Contents', 13, { weight: 'bold' });
  flow.y += 1.5;
}

/** A line of the contents: the words, dots, the number of the page. */
function entryMarks(
  { words, isSection, page }: Entry,
  x: number,
  y: number,
  width: number,
): Mark[] {
  const weight = isSection ? 'bold' : 'regular';
  const from = x + (isSection ? 0 : 4);
  const number = String(page);
  const right = x + width;
  const room = right - from - widthMm(number, ENTRY_PT, weight) - 4;
  const shown = cut(words, ENTRY_PT, room, weight);
  const dots: [number, number] = [
    from + widthMm(shown, ENTRY_PT, weight) + 1.5,
    right - widthMm(number, ENTRY_PT, weight) - 1.5,
  ];
  return [
    text(from, y, shown, ENTRY_PT, { weight }),
    ...(dots[1] > dots[0] ? [line([dots[0], y], [dots[1], y], 0.12, 0.35)] : []),
    text(right, y, number, ENTRY_PT, { weight, align: 'end' }),
  ];
}

/** Where the lines of the contents stand: page, corner, width; made before the pages are known. */
function places(
  flow: PaperFlow,
  count: number,
  footMm: number,
): { page: number; x: number; y: number; width: number }[] {
  const width = (flow.span - GUTTER_MM * (CONTENTS_COLUMNS - 1)) / CONTENTS_COLUMNS;
  const all: { page: number; x: number; y: number; width: number }[] = [];
  let left = count;
  while (left > 0) {
    const top = flow.y;
    const most = Math.max(1, Math.floor((flow.room - footMm) / ENTRY_MM));
    const rows = Math.min(most, Math.ceil(left / CONTENTS_COLUMNS));
    for (let column = 0; column < CONTENTS_COLUMNS; column++)
      for (let row = 0; row < rows && left > 0; row++, left--)
        all.push({
          page: flow.page,
          x: flow.left + column * (width + GUTTER_MM),
          y: top + (row + 0.8) * ENTRY_MM,
          width,
        });
    flow.y = top + rows * ENTRY_MM;
    if (left > 0) flow.turn();
  }
  return all;
}

/** The code with its words needs about this much. */
const CODE_MM = 46;

/** The book on paper; on A4 unless told otherwise. The code stands on its first pages, under the contents. */
export function bookDrawing(book: Book, paper: Paper = 'A4', code?: SheetCode): Drawing {
  const flow = new PaperFlow(`${book.title} · ${book.setup.name}`, paper, false);
  const entries = entriesOf(book);
  drawHead(flow, book);
  const where = places(flow, entries.length, code === undefined ? 0 : CODE_MM);
  if (code !== undefined) drawCode(flow, code);
  const open = [...entries];
  for (const section of book.sections) drawSection(flow, section, open);
  entries.forEach((entry, at) => {
    const place = where[at];
    if (place !== undefined)
      flow.addTo(place.page, ...entryMarks(entry, place.x, place.y, place.width));
  });
  return flow.drawing();
}
