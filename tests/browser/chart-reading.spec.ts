/** One's own instrument: a chart is pasted, looked at and kept; or it is written by hand. */
import type { Locator, Page } from '@playwright/test';
import { expectNoObjection } from './axe';
import { BenchPage } from './benchPage';
import { expect, keptPageTest as test } from './page';

const CHART = `My everyday neck, ten strings

Str  Note    A     B     C     F     E    LKV   G      D
 1   F#                                         +1
 2   D#                                         +1   -1/-2
 3   G#           +1
 4   E                  +2    +1    -1
 5   B     +2           +2                -1
 6   G#           +1                            -2
 7   F#
 8   E                        +1    -1
 9   D                                                -1
10   B     +2                             -1
`;

/**
 * Presses of keys and of a mouse, and the seconds they take an unhurried player: 0.28 s a key, 1.5 s to
 * point and press, 0.4 s to go from one to the other, 1.35 s to think before each cell or field (the
 * keystroke-level model of Card, Moran and Newell, 1980; from memory).
 */
class Hands {
  presses = 0;
  seconds = 0;
  #onKeys = false;
  readonly page: Page;
  constructor(page: Page) {
    this.page = page;
  }
  #homes(onKeys: boolean): void {
    if (onKeys !== this.#onKeys) this.seconds += 0.4;
    this.#onKeys = onKeys;
  }
  async click(what: Locator): Promise<void> {
    this.#homes(false);
    this.presses += 1;
    this.seconds += 1.35 + 1.5;
    await what.click();
  }
  async key(name: string): Promise<void> {
    this.#homes(true);
    this.presses += 1;
    this.seconds += 0.28;
    await this.page.keyboard.press(name);
  }
  async type(text: string): Promise<void> {
    this.#homes(true);
    this.presses += text.length;
    this.seconds += 1.35 + 0.28 * text.length;
    await this.page.keyboard.type(text);
  }
  /** Choosing from a list is to open it, and to press one of it. */
  async choose(list: Locator, option: string): Promise<void> {
    this.presses += 2;
    this.seconds += 1.35 + 2 * 1.5;
    await list.selectOption(option);
  }
}

/** As the keys of a device paste, into whatever has the focus. */
const paste = (page: Page, text: string): Promise<void> =>
  page.evaluate((chart) => {
    const data = new DataTransfer();
    data.setData('text/plain', chart);
    const at = document.activeElement ?? document.body;
    at.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }),
    );
  }, text);

const tool = (page: Page, name: string): Locator => page.getByRole('button', { name, exact: true });

test('a chart that is pasted on the Bench is read, settled and kept within a minute', async ({
  page,
}) => {
  const bench = new BenchPage(page);
  await bench.open();
  const hands = new Hands(page);
  await paste(page, CHART);
  hands.presses += 2;
  await expect(page.getByText('10 strings, 8 controls, 5 doubts to settle.')).toBeVisible();
  await expectNoObjection(page, 'a chart with doubts');

  // what F is, as usual; E is on the other knee of this player
  const doubtOf = (name: string): Locator => page.getByRole('group', { name: `line 3, ${name}` });
  await hands.click(doubtOf('F').getByRole('button', { name: /LKL/ }));
  await expect(doubtOf('F').getByRole('button', { name: /LKL/ })).toHaveAttribute(
    'aria-pressed',
    'true',
  );
  await hands.click(doubtOf('E').getByRole('button', { name: /LKR/ }));
  await hands.click(doubtOf('G').getByRole('button', { name: /RKL/ }));
  await hands.click(doubtOf('D').getByRole('button', { name: /RKR/ }));
  await hands.click(page.getByRole('button', { name: /as such tunings are strung/ }));
  await expect(page.getByText('nothing left to settle')).toBeVisible();

  // nothing is kept before it is said
  await hands.click(tool(page, 'Keep this setup'));
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('My everyday neck, ten strings');
  await expect(bench.cell('D', 2)).toHaveAccessibleName(/down 2|−2|half/);
  await expect(bench.openNote(1)).toHaveAccessibleName(/F sharp 4/);
  expect(hands.presses).toBeLessThanOrEqual(8);
  expect(hands.seconds).toBeLessThan(60);

  // and out again, as it came in
  await bench.act('Share');
  await page.evaluate(() =>
    Object.defineProperty(navigator.clipboard, 'writeText', {
      value: (text: string) => Promise.resolve(sessionStorage.setItem('copied', text)),
    }),
  );
  await tool(page, 'Copy as text').click();
  await expect(page.getByText('The chart is copied as text.')).toBeVisible();
  const copied = await page.evaluate(() => sessionStorage.getItem('copied') ?? '');
  expect(copied).toContain('LKL (F)');
  await page.goto('bench/read/');
  await page.getByLabel('The chart', { exact: true }).fill(copied);
  await expect(page.getByText('10 strings, 8 controls, nothing left to settle.')).toBeVisible();
});

test('what is no chart says so; a file that is dropped is read; the phone has room for it', async ({
  page,
}) => {
  await page.setViewportSize({ width: 360, height: 740 });
  await page.goto('bench/read/');
  const chart = page.getByLabel('The chart', { exact: true });
  await chart.fill('Nothing of this is a chart.');
  await expect(page.getByRole('alert')).toContainText('no strings and controls stand together');
  await expect(tool(page, 'Keep this setup')).toBeHidden();

  await page.evaluate((text) => {
    const data = new DataTransfer();
    data.items.add(new File([text], 'mine.csv', { type: 'text/csv' }));
    document.body.dispatchEvent(
      new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }),
    );
  }, 'String,Note,P1,LKL\n1,E4,+2,???\n2,C4,,-1\n3,A3,,+1\n');
  await expect(page.getByText('3 strings, 2 controls, nothing left to settle.')).toBeVisible();
  await expectNoObjection(page, 'a chart on a phone');
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);

  // the place of a doubt is marked in the text
  await page.getByRole('button', { name: /^Line 2, LKL on string 1/ }).click();
  await expect(chart).toBeFocused();
  const marked = await chart.evaluate((field: HTMLTextAreaElement) =>
    field.value.slice(field.selectionStart, field.selectionEnd),
  );
  expect(marked).toBe('???');
});

test('ten strings, three pedals and five levers by hand take less than three minutes', async ({
  page,
}) => {
  test.setTimeout(120_000);
  const bench = new BenchPage(page);
  await bench.open();
  const hands = new Hands(page);
  await hands.click(tool(page, 'Setup actions'));
  await hands.click(tool(page, 'New setup'));
  await hands.click(page.getByRole('textbox', { name: /key or notes/ }));
  await hands.type('F#4 D#4 G#4 E4 B3 G#3 F#3 E3 D3 B2');
  await hands.key('Enter');
  await expect(bench.openNote(10)).toHaveAccessibleName(/B 2/);

  const add = tool(page, 'Add a control');
  const place = bench.tools('Pedals and levers').getByRole('combobox', { name: 'Station' });
  for (const id of ['A', 'B', 'C']) {
    await hands.click(add);
    await hands.type(id);
    await hands.key('Enter');
  }
  for (const station of ['LKL', 'LKV', 'LKR', 'RKL', 'RKR']) {
    await hands.choose(place, station);
    await hands.click(add);
  }
  const pulls: readonly (readonly [string, number, string])[] = [
    ['A', 5, '+2'],
    ['A', 10, '+2'],
    ['B', 3, '+1'],
    ['B', 6, '+1'],
    ['C', 4, '+2'],
    ['C', 5, '+2'],
    ['LKL', 4, '+1'],
    ['LKL', 8, '+1'],
    ['LKV', 5, '-1'],
    ['LKV', 10, '-1'],
    ['LKR', 4, '-1'],
    ['LKR', 8, '-1'],
    ['RKL', 1, '+1'],
    ['RKL', 2, '+1'],
    ['RKL', 6, '-2'],
    ['RKR', 2, '-1/-2'],
    ['RKR', 9, '-1'],
  ];
  for (const [id, string, text] of pulls) {
    await hands.click(bench.cell(id, string));
    await hands.type(text);
  }
  await hands.key('Enter');
  await expect(bench.cell('RKR', 9)).toHaveAccessibleName(/C sharp/);
  await expect(bench.heads).toHaveCount(8);
  console.log(`by hand: ${hands.presses} presses, ${Math.round(hands.seconds)} s`);
  expect(hands.presses).toBeLessThanOrEqual(130);
  expect(hands.seconds).toBeLessThan(180);
});

test('tablature that is pasted becomes chords at their positions, to be heard and kept', async ({
  page,
}) => {
  await page.goto('arrange/');
  await page.getByText('Paste tablature').click();
  await page
    .getByRole('textbox', { name: /^Tablature/ })
    .fill('3 --8---3B--\n4 --8---3---\n5 --8---3A--');
  // open, E at the nut: fret 8 is C over its fifth; with A and B, A: fret 3 is C over E
  await expect(page.getByText('2 chords: C/G | C/E')).toBeVisible();
  await page.getByRole('button', { name: 'Arrange it in place of the piece' }).click();
  await expect(page).toHaveURL(/hold%3A8|hold:8/);
  await expect(page.getByRole('textbox', { name: 'Chords' })).toHaveValue('C/G | C/E');
  await expect(
    page
      .getByRole('list')
      .getByText(/Fret 3|fret 3/)
      .first(),
  ).toBeAttached();
});

test('an empty place has an example one press away', async ({ page }) => {
  await page.goto('bench/read/');
  await page.getByRole('button', { name: 'Try an example' }).click();
  await expect(page.getByText('8 strings, 4 controls, 1 doubt to settle.')).toBeVisible();
});
