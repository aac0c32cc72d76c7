/**
 * Describing an instrument in its chart, by mouse and by keyboard alone: cells, focus, pictures, the
 * device. What stands in the chart and what edits do to it is `tests/unit/ui/bench.test.ts`, what is
 * kept `tests/unit/ui/benchKeeping.test.ts`. The setups' tunings and pulls are common practice.
 */
import { expect, keptPageTest } from './page';
import { BenchPage } from './benchPage';

const test = keptPageTest.extend<{ bench: BenchPage }>({
  bench: async ({ page }, use) => {
    await use(new BenchPage(page));
  },
});
// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

test('the chart is walked, written and rebuilt with the keys alone', async ({ page, bench }) => {
  const { keyboard } = page;
  await bench.open();

  await test.step('it shows strings down and controls across in their places', async () => {
    await expect(bench.grid).toHaveAccessibleName(/^Copedent of E9/);
    await expect(bench.heads).toHaveText([
      /^A\s*P1\s*$/,
      /^B\s*P2\s*$/,
      /^C\s*P3\s*$/,
      /^LKL\s*$/,
      /^LKV\s*$/,
      /^LKR\s*$/,
      /^RKL\s*$/,
      /^RKR\s*$/,
    ]);
    await expect(bench.cell('A', 5)).toHaveAccessibleName(
      'A on string 5: raised 2 semitones to C sharp 4',
    );
    await expect(bench.cell('RKR', 2)).toHaveText(/−1 · −2\s*D · C♯/);
    await expect(bench.cell('RKR', 2)).toHaveAccessibleName(
      'RKR on string 2: lowered 2 semitones to C sharp 4, half-stop at 1 semitone, D 4',
    );
  });

  await test.step('it is one stop of the Tab key, and its cells are walked with arrows and Tab', async () => {
    await expect(bench.grid.locator('[tabindex="0"]')).toHaveCount(1);
    await bench.cell('A', 1).focus();
    await keyboard.press('ArrowDown');
    await keyboard.press('ArrowRight');
    await expect(bench.cell('B', 2)).toBeFocused();
    await keyboard.press('Tab');
    await expect(bench.cell('C', 2)).toBeFocused();
    await keyboard.press('Shift+Tab');
    await expect(bench.cell('B', 2)).toBeFocused();
    await keyboard.press('Home');
    await expect(bench.string(2)).toBeFocused();
    await keyboard.press('Control+End');
    await expect(bench.cell('RKR', 10)).toBeFocused();
    // behind the last cell Tab goes on to what follows
    await keyboard.press('Tab');
    await expect(bench.grid.locator(':focus')).toHaveCount(0);
    await bench.cell('B', 2).focus();
    await keyboard.press('PageUp');
    await expect(bench.head('B')).toBeFocused();
    await keyboard.press('Escape');
    await expect(
      bench.tools('Control B').getByRole('button').and(page.locator(':focus')),
    ).toHaveCount(1);
  });

  await test.step('F2 opens what is there, Escape gives up what was typed', async () => {
    await bench.cell('RKR', 2).focus();
    await keyboard.press('F2');
    const field = bench.grid.getByRole('textbox');
    await expect(field).toHaveValue('-1/-2');
    await field.fill('-3');
    await keyboard.press('Escape');
    await expect(bench.cell('RKR', 2)).toBeFocused();
    await expect(bench.cell('RKR', 2)).toHaveText(/−1 · −2/);
  });

  await test.step('it says why a cell cannot be, and lets the rest go on', async () => {
    await bench.type(bench.cell('A', 5), '+9');
    await expect(bench.cell('A', 5)).toHaveAttribute('aria-invalid', 'true');
    await expect(bench.cell('A', 5)).toHaveAccessibleDescription(
      'A pull goes at most 7 semitones; this is 9 semitones.',
    );
    await expect(page.getByRole('list', { name: 'What cannot be' })).toContainText(
      'A on string 5, “+9”',
    );
    // written the German way: what it is here is one press away
    await bench.type(bench.openNote(3), 'As');
    const refused = page.getByRole('listitem').filter({ hasText: 'string 3, open note' });
    await refused.getByRole('button', { name: 'A♭', exact: true }).click();
    await expect(bench.openNote(3)).toHaveAccessibleName('String 3, open: A flat 4');
    await expect(refused).toHaveCount(0);
    await bench.type(bench.openNote(3), 'G#');
    await bench.type(bench.cell('B', 5), '+1');
    await expect(bench.cell('B', 5)).toHaveAccessibleName(/raised 1 semitone to C 4/);
    // the pull is as it was, until something that can be is written
    await bench.type(bench.cell('A', 5), '+3');
    await expect(bench.cell('A', 5)).not.toHaveAttribute('aria-invalid');
    await expect(bench.cell('A', 5)).toHaveAccessibleName(/raised 3 semitones to D 4/);
  });

  await test.step('a whole lever is written', async () => {
    // the lever RKV that E9 leaves free: strings 1 and 7 up to G, string 2 with a half-stop
    const tools = bench.tools('Pedals and levers');
    await tools.getByRole('combobox').selectOption('RKV');
    await tools.getByRole('button', { name: 'Add a control' }).press('Enter');
    await expect(bench.head('RKV')).toBeFocused();
    await keyboard.press('ArrowDown');
    await keyboard.type('G');
    await keyboard.press('Enter');
    await expect(bench.cell('RKV', 1)).toHaveAccessibleName(/raised 1 semitone to G 4/);
    await expect(bench.cell('RKV', 2)).toBeFocused();
    await keyboard.type('-1/-2');
    await keyboard.press('Enter');
    await expect(bench.cell('RKV', 2)).toHaveText(/−1 · −2/);
    await keyboard.press('ArrowDown');
    await keyboard.press('Alt+ArrowUp');
    await keyboard.press('Alt+ArrowUp');
    await expect(bench.cell('RKV', 4)).toHaveAccessibleName(/raised 2 semitones to F sharp 4/);
    await keyboard.press('Alt+ArrowDown');
    await expect(bench.cell('RKV', 4)).toHaveAccessibleName(/raised 1 semitone to F 4/);
    await keyboard.press('Delete');
    await expect(bench.cell('RKV', 4)).toHaveAccessibleName(/no pull/);
  });

  await test.step('open notes, gauges and names are written', async () => {
    await bench.type(bench.openNote(9), 'C#');
    await expect(bench.openNote(9)).toHaveAccessibleName('String 9, open: C sharp 3');
    await bench.type(bench.gauge(9), '36w/.016');
    await expect(bench.gauge(9)).toHaveText('.036w/.016');
    // typing replaces what stood there, though the keys had led to the cell before it was pressed
    await bench.gauge(8).click();
    await page.keyboard.press('ArrowDown');
    await bench.gauge(9).click();
    await page.keyboard.type('.034w');
    await page.keyboard.press('Enter');
    await expect(bench.gauge(9)).toHaveText('.034w');
    // pressed a second time it is edited
    await bench.gauge(9).click();
    await bench.gauge(9).click();
    await page.keyboard.type('/.015');
    await page.keyboard.press('Enter');
    await expect(bench.gauge(9)).toHaveText('.034w/.015');
    await bench.head('A').focus();
    await keyboard.type('Pa');
    await keyboard.press('Enter');
    await expect(bench.head('Pa')).toHaveAccessibleName('Pedal Pa, P1');
    await bench.head('B').focus();
    await keyboard.type('Pa');
    await keyboard.press('Enter');
    await expect(page.getByText(/The id of B, “Pa”: There is another control Pa/)).toBeVisible();
  });

  await test.step('a string comes, moves and goes with its pulls', async () => {
    await bench.string(3).focus();
    await keyboard.press('Alt+ArrowUp');
    await expect(bench.string(2)).toBeFocused();
    await expect(bench.cell('B', 2)).toHaveAccessibleName(/raised 1 semitone to A 4/);
    await bench.tools('String 2').getByRole('button', { name: 'Add before' }).press('Enter');
    await expect(bench.grid.getByRole('rowheader')).toHaveCount(11);
    await expect(bench.cell('B', 3)).toHaveAccessibleName(/raised 1 semitone to A 4/);
    await bench.string(2).focus();
    await keyboard.press('Delete');
    await expect(bench.grid.getByRole('rowheader')).toHaveCount(10);
    await expect(page.getByText('String 2 removed.')).toBeVisible();
  });

  await test.step('a control moves beside another, and to a place of its own', async () => {
    await bench.head('Pa').focus();
    await keyboard.press('Alt+ArrowRight');
    await expect(bench.head('Pa')).toHaveAccessibleName('Pedal Pa, P2');
    await expect(bench.head('Pa')).toBeFocused();
    await bench.tools('Control Pa').getByRole('combobox').selectOption('P7');
    await expect(bench.head('Pa')).toHaveAccessibleName('Pedal Pa, P7');
    await keyboard.press('Delete');
    await expect(bench.head('Pa')).toHaveCount(0);
  });
});

test('the chart and the picture are edited with the mouse, and what it does is told', async ({
  page,
  bench,
}) => {
  await bench.open();
  await expect(bench.undo).toBeDisabled();

  await test.step('a click goes to a cell, another opens it', async () => {
    await bench.cell('C', 6).click();
    await expect(bench.cell('C', 6)).toBeFocused();
    await bench.cell('C', 6).click();
    await page.keyboard.type('A');
    await bench.cell('B', 6).click();
    await expect(bench.cell('C', 6)).toHaveAccessibleName(/raised 1 semitone to A 3/);
  });

  await test.step('a string’s end is dragged to make the same pull', async () => {
    await page.getByRole('button', { name: /^Pedal B/ }).click();
    await expect(page.getByRole('combobox', { name: 'Pulls of' })).toHaveValue('B');
    const finger = bench.finger(4);
    await finger.scrollIntoViewIfNeeded();
    const [from, to] = [await finger.boundingBox(), await bench.finger(3).boundingBox()];
    if (!from || !to) throw new Error('the changer is not to be seen');
    // string 3 has B’s raise of one semitone: the same place for string 4
    const y = from.y + from.height / 2;
    await page.mouse.move(from.x + from.width / 2, y);
    await page.mouse.down();
    await page.mouse.move(to.x + to.width / 2, y, { steps: 5 });
    await page.mouse.up();
    await expect(finger).toHaveAttribute('aria-valuetext', 'raised 1 semitone to F 4');
    await expect(bench.cell('B', 4)).toHaveAccessibleName(/raised 1 semitone to F 4/);
    await bench.undo.click();
    await expect(bench.cell('B', 4)).toHaveAccessibleName(/no pull/);
  });

  await test.step('and moved with the keys', async () => {
    await page.getByRole('combobox', { name: 'Pulls of' }).selectOption('LKV');
    await bench.finger(5).press('ArrowLeft');
    await expect(bench.cell('LKV', 5)).toHaveAccessibleName(/lowered 2 semitones to A 3/);
    await bench.finger(5).press('0');
    await expect(bench.cell('LKV', 5)).toHaveAccessibleName(/no pull/);
  });

  await test.step('the stand holds a combination, and the picture tells what it sounds', async () => {
    await page.getByRole('button', { name: /^Pedal A/ }).click();
    // A and B on the open E9 are A major (common practice)
    const heard = page.getByRole('region', { name: 'What sounds' });
    await expect(heard.getByRole('heading', { name: 'A and B, at the nut' })).toBeVisible();
    await expect(heard.getByText('A major over E', { exact: true }).first()).toBeAttached();
  });

  await test.step('an edit is told while it is typed, and undone and done again', async () => {
    await bench.cell('LKR', 4).focus();
    await page.keyboard.press('Delete');
    await expect(bench.did.getByRole('heading', { name: 'What the edit did' })).toBeVisible();
    await expect(bench.did.getByText(/fewer than before/)).toBeVisible();
    const less = await bench.count();
    await page.keyboard.type('-1');
    await expect(bench.did.getByText(/more than before/)).toBeVisible();
    expect(await bench.count()).toBeGreaterThan(less);
    await page.keyboard.press('Enter');
    await bench.cell('LKR', 1).focus();
    await page.keyboard.press('Control+z');
    await expect(bench.cell('LKR', 4)).toHaveAccessibleName(/no pull/);
    await page.keyboard.press('Control+z');
    await expect(bench.cell('LKR', 4)).toHaveAccessibleName(/lowered 1 semitone/);
    await bench.redo.click();
    await expect(bench.cell('LKR', 4)).toHaveAccessibleName(/no pull/);
  });

  await test.step('the pedals are reversed with one action, and back', async () => {
    const reverse = page.getByRole('button', { name: 'Reverse the pedals' });
    await reverse.click();
    await expect(bench.heads.first()).toHaveAccessibleName('Pedal C, P1');
    await expect(bench.heads.nth(2)).toHaveAccessibleName('Pedal A, P3');
    await reverse.click();
    await expect(bench.heads.first()).toHaveAccessibleName('Pedal A, P1');
  });
});

test('the instrument, its reach and its necks are described in fields', async ({ page, bench }) => {
  await test.step('an address of a setup that is not there says so, and shows another', async () => {
    await bench.open('?setup=kept-nowhere');
    await expect(page.getByRole('alert')).toContainText('There is no setup “kept-nowhere”');
    await expect(bench.grid).toHaveAccessibleName(/^Copedent of E9/);
  });

  await test.step('combinations are switched off, and allowed against the rules', async () => {
    const reach = page.getByRole('region', { name: 'Reach' });
    // 6 states of the foot · 4 of the left knee · 4 of the right, one lever with a half-stop: 6·4·4
    await expect(reach.getByText('96 combinations can be engaged.')).toBeVisible();
    await reach.getByRole('checkbox', { name: 'A', exact: true }).check();
    await reach.getByRole('checkbox', { name: 'LKV', exact: true }).check();
    await reach.getByRole('button', { name: 'Switch off A + LKV' }).click();
    // gone are A and A+B with LKV, with each of the four states of the right knee: 2 · 4
    await expect(reach.getByText('88 combinations can be engaged.')).toBeVisible();
    await expect(reach.getByRole('list', { name: 'Switched off' })).toContainText('A + LKV');
    await reach.getByRole('checkbox', { name: 'A', exact: true }).check();
    await reach.getByRole('checkbox', { name: 'C', exact: true }).check();
    await reach.getByRole('button', { name: 'Allow A + C' }).click();
    // new is A+C with every state of the knees but LKV: 3 · 4
    await expect(reach.getByText('100 combinations can be engaged.')).toBeVisible();
    // and the stand holds them
    await page.getByRole('button', { name: /^Pedal A/ }).click();
    await page.getByRole('button', { name: /^Pedal C/ }).click();
    await expect(page.getByRole('heading', { name: 'A and C, at the nut' })).toBeVisible();
    await reach.getByRole('button', { name: 'Discard A + C' }).click();
    await expect(reach.getByText('88 combinations can be engaged.')).toBeVisible();
    await reach.getByRole('button', { name: 'Discard A + LKV' }).click();
    await expect(reach.getByText('96 combinations can be engaged.')).toBeVisible();
    await reach.getByRole('combobox').selectOption('3');
    // A+B+C besides: 7 · 4 · 4
    await expect(reach.getByText('112 combinations can be engaged.')).toBeVisible();
    await reach.getByRole('checkbox', { name: /up and sideways/ }).check();
    // LKV with LKL or LKR besides: 7 · 6 · 4
    await expect(reach.getByText('168 combinations can be engaged.')).toBeVisible();
  });

  await test.step('it is named and measured, and what cannot be says why', async () => {
    await page.getByRole('textbox', { name: 'Name', exact: true }).fill('<b>Mine</b>');
    await page.keyboard.press('Tab');
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('<b>Mine</b>');
    await page.getByRole('textbox', { name: 'Frets' }).fill('99');
    await page.keyboard.press('Tab');
    await expect(
      page.getByText(/Frets: found 99; allowed is a whole number from 0 to 36/),
    ).toBeVisible();
    await page.getByRole('textbox', { name: 'Notes' }).fill('Rods changed in spring.');
    await page.keyboard.press('Tab');
    await bench.undo.click();
    await expect(page.getByRole('textbox', { name: 'Notes' })).toHaveValue('');
  });

  await test.step('a neck comes, is transposed, named and goes', async () => {
    await page.getByText('This neck, and further necks').click();
    await page
      .getByRole('combobox', { name: 'Tuning of the further neck' })
      .selectOption('C6, 10 strings');
    await page.getByRole('button', { name: 'Add a neck' }).click();
    await expect(bench.grid).toHaveAccessibleName(/^Copedent of C6/);
    await expect(page).toHaveURL(/neck=2/);
    await page.getByRole('button', { name: 'A semitone up' }).click();
    await expect(bench.openNote(1)).toHaveAccessibleName('String 1, open: A flat 4');
    await page.getByRole('textbox', { name: 'Name of the neck' }).fill('Second');
    await page.keyboard.press('Tab');
    await expect(bench.grid).toHaveAccessibleName(/^Copedent of Second/);
    await page.getByRole('button', { name: 'Remove Second' }).click();
    await expect(bench.grid).toHaveAccessibleName(/^Copedent of E9/);
  });

  await test.step('it begins from a tuning without controls', async () => {
    await bench.act('New setup');
    await page.getByRole('combobox', { name: 'Or with the tuning of' }).selectOption('c6');
    await page.getByRole('spinbutton', { name: 'Pedals' }).fill('0');
    await page.getByRole('spinbutton', { name: 'Knee levers' }).fill('0');
    await page.getByRole('button', { name: 'Begin with this tuning' }).click();
    await expect(page.getByText('No pedals and no levers yet.', { exact: false })).toBeVisible();
    await expect(bench.heads).toHaveCount(0);
    await bench.tools('Pedals and levers').getByRole('button', { name: 'Add a control' }).click();
    await expect(bench.heads).toHaveCount(1);
  });

  await test.step('it begins with a key or with notes, and as many strings as wanted', async () => {
    await bench.act('New setup');
    const wanted = page.getByRole('textbox', { name: 'Open notes, string 1 first, or a key' });
    await wanted.fill('H');
    await wanted.press('Enter');
    await expect(page.getByText(/“H” is no key and no note/)).toBeVisible();
    await expect(page.getByRole('button', { name: 'B', exact: true })).toBeVisible();
    await wanted.fill('A');
    await page.getByRole('spinbutton', { name: 'Strings' }).fill('6');
    await page.getByRole('button', { name: 'Begin with these strings' }).click();
    await expect(bench.grid).toHaveAccessibleName(/^Copedent of A6/);
    // A6 of six strings, common practice of the trade: E4 C♯4 A3 F♯3 E3 C♯3, and on with A2
    await expect(bench.grid.getByRole('rowheader')).toHaveCount(6);
    await expect(bench.openNote(6)).toHaveAccessibleName('String 6, open: C sharp 3');
    await bench.string(6).focus();
    await bench.tools('String 6').getByRole('button', { name: 'Add after' }).click();
    await expect(bench.openNote(7)).toHaveAccessibleName('String 7, open: A 2');
  });

  await test.step('an address names the setup and the neck', async () => {
    await bench.open('?setup=double&neck=2');
    await expect(bench.grid).toHaveAccessibleName(/^Copedent of C6/);
  });
});

test('the first edit makes a copy, and edits, undo and redo outlive a reload', async ({
  page,
  bench,
}) => {
  await bench.open();
  await bench.type(bench.cell('B', 4), '+1');
  await expect(page).toHaveURL(/setup=kept-/);
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(
    'E9, three pedals and five levers, copy',
  );
  await bench.type(bench.cell('B', 8), '+1');
  await expect(bench.cell('B', 8)).toHaveAccessibleName(/raised 1 semitone/);
  await expect(page.getByText('Kept on this device')).toBeVisible();
  await page.reload();
  await expect(bench.cell('B', 8)).toHaveAccessibleName(/raised 1 semitone/);
  await bench.undo.click();
  await expect(bench.cell('B', 8)).toHaveAccessibleName(/no pull/);
  await expect(bench.cell('B', 4)).toHaveAccessibleName(/raised 1 semitone/);
  await expect(page.getByText('Kept on this device')).toBeVisible();
  await page.reload();
  await expect(bench.cell('B', 8)).toHaveAccessibleName(/no pull/);
  await bench.redo.click();
  await expect(bench.cell('B', 8)).toHaveAccessibleName(/raised 1 semitone/);
  // the one that comes with the program is as it was
  await page.getByRole('combobox', { name: 'Setup', exact: true }).selectOption('e9');
  await expect(bench.cell('B', 4)).toHaveAccessibleName(/no pull/);
  // an entry of the history is written once what it names is drawn
  await expect(page).not.toHaveURL(/setup=kept-/);
  await page.goBack();
  await expect(bench.cell('B', 4)).toHaveAccessibleName(/raised 1 semitone/);
});

test('on a phone the chart scrolls in itself and its first columns stay; on paper it stands alone', async ({
  page,
  bench,
}) => {
  await page.setViewportSize({ width: 360, height: 740 });
  await bench.open();
  const left = async (): Promise<number> => (await bench.openNote(5).boundingBox())?.x ?? NaN;
  const before = await left();
  await bench.cell('RKR', 5).focus();
  await expect(bench.cell('RKR', 5)).toBeInViewport({ ratio: 0.9 });
  expect(await left()).toBe(before);
  const wider = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(wider).toBe(0);

  await test.step('on paper', async () => {
    await page.setViewportSize({ width: 1280, height: 720 });
    await page.emulateMedia({ media: 'print' });
    await expect(bench.grid).toBeVisible();
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    for (const gone of [bench.undo, page.getByRole('region', { name: 'Reach' }), bench.finger(1)])
      await expect(gone).toBeHidden();
  });
});
