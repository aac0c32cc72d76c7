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
  await expect(page.getByRole('alert')).toContainText('no strings and controls stand together', {
    timeout: 20_000,
  });
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

test('ten strings, three pedals and five levers by hand take less than a minute', async ({
  page,
}) => {
  test.setTimeout(120_000);
  const bench = new BenchPage(page);
  await bench.open();
  const hands = new Hands(page);
  await hands.click(tool(page, 'Setup actions'));
  await hands.click(tool(page, 'New setup'));
  // the field has the focus, and ten strings have three pedals, five levers and gauges at first
  await expect(page.getByRole('textbox', { name: /^Open notes/ })).toBeFocused();
  await hands.type('F#D#G#EBG#F#EDB');
  await expect(page.getByRole('spinbutton', { name: 'Knee levers' })).toHaveValue('5');
  await expectNoObjection(page, 'a new setup');
  await hands.key('Enter');
  await expect(bench.head('A')).toBeFocused();
  await expect(bench.openNote(10)).toHaveAccessibleName(/B 2/);
  await expect(bench.gauge(3)).toHaveAccessibleName(/\.011/);

  // A, B, C, LKL, LKV, LKR, RKL, RKR: each control's pulls in one line, Tab leads to the next
  const lines = ['5 10+2', '3 6+1', '4 5+2', '4 8+1', '5 10-1', '4 8-1', '1 2+1 6-2', '2-1/-2 9-1'];
  for (const [index, line] of lines.entries()) {
    await hands.type(line);
    await hands.key(index < lines.length - 1 ? 'Tab' : 'Enter');
  }
  await expect(bench.cell('RKR', 9)).toHaveAccessibleName(/C sharp/);
  await expect(bench.cell('A', 10)).toHaveAccessibleName(/C sharp/);
  await expect(bench.heads).toHaveCount(8);
  console.log(`by hand: ${hands.presses} presses, ${Math.round(hands.seconds)} s`);
  // cell by cell, with every control added by itself, it was 116 presses and 166 s
  expect(hands.presses).toBeLessThanOrEqual(80);
  expect(hands.seconds).toBeLessThan(60);
});

test('open notes are told by a keyboard, by the strings, or not at all where the browser refuses', async ({
  page,
}) => {
  await page.addInitScript(() => {
    const input = { name: 'Keys', state: 'connected', onmidimessage: null };
    Object.assign(globalThis, { keys: input, asked: 0 });
    Object.defineProperty(navigator, 'requestMIDIAccess', {
      value: () => {
        (globalThis as unknown as { asked: number }).asked++;
        return Promise.resolve({ inputs: new Map([['1', input]]), onstatechange: null });
      },
    });
    navigator.mediaDevices.getUserMedia = () =>
      Promise.reject(new DOMException('Permission denied', 'NotAllowedError'));
  });
  const bench = new BenchPage(page);
  await bench.open();
  await bench.act('New setup');
  const asked = (): Promise<number> =>
    page.evaluate(() => (globalThis as unknown as { asked: number }).asked);
  expect(await asked()).toBe(0);
  await tool(page, 'Play them on a MIDI keyboard').click();
  await expect(page.getByText('Keys: play string 1.', { exact: false })).toBeVisible();
  expect(await asked()).toBe(1);
  await page.evaluate(() => {
    const { keys } = globalThis as unknown as {
      keys: { onmidimessage: (event: { data: Uint8Array }) => void };
    };
    for (const key of [66, 63, 68]) keys.onmidimessage({ data: Uint8Array.from([0x90, key, 90]) });
  });
  const notes = page.getByRole('textbox', { name: /^Open notes/ });
  await expect(notes).toHaveValue('F#4 D#4 G#4');
  await tool(page, 'Undo the last note').click();
  await expect(notes).toHaveValue('F#4 D#4');
  await tool(page, 'Listen to the strings').click();
  await expect(page.getByRole('alert')).toContainText('not allowed to use the microphone');
  await expect(notes).toHaveValue('F#4 D#4');
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
