/** The whole of it with the keyboard alone. */
import { type Locator, type Page } from '@playwright/test';
import { expect, keptPageTest as test } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

/** Goes on with Tab until a control has the focus; says so where it is never reached. */
async function tabTo(page: Page, wanted: Locator, most = 30): Promise<void> {
  for (let times = 0; times < most; times++) {
    await page.keyboard.press('Tab');
    if (await wanted.evaluate((element) => element === document.activeElement)) return;
  }
  await expect(wanted, `reached with ${most} tabs`).toBeFocused();
}

test.describe('the rows', () => {
  test('are moved through, taken, played, unfolded and asked for with the keys', async ({
    page,
    gripwright,
  }) => {
    await test.step('move the bar and the controls as the arrow keys go through them', async () => {
      await gripwright.open('?chord=C&frets=0-11');
      await gripwright.rows.first().focus();
      await gripwright.expectFret(8);
      await expect(gripwright.bar).toHaveAttribute('aria-valuetext', 'fret 8');

      // The three leading positions (common practice): 8 with nothing, 11 with A+LKL, 3 with A+B; the
      // second and the third may stand in either order.
      const seen: string[] = [];
      for (let down = 0; down < 2; down++) {
        await page.keyboard.press('ArrowDown');
        await expect(gripwright.rows.nth(down + 1)).toBeFocused();
        await expect(gripwright.current).toHaveCount(1);
        const pressed = page
          .getByRole('group', { name: 'Pedals and levers' })
          .getByRole('button', { pressed: true });
        const ids = (await pressed.allInnerTexts()).map((text) => text.trim().split(/\s/)[0]);
        seen.push(`${await gripwright.bar.getAttribute('aria-valuenow')} ${ids.sort().join('+')}`);
        await gripwright.expectName('C major');
      }
      expect(seen.sort()).toEqual(['11 A+LKL', '3 A+B']);

      await page.keyboard.press('ArrowUp');
      await page.keyboard.press('ArrowUp');
      await page.keyboard.press('ArrowUp');
      await expect(gripwright.rows.first()).toBeFocused();
      await gripwright.expectFret(8);
    });

    await test.step('are taken with Enter and played with space', async () => {
      await gripwright.open('?chord=C&frets=0-11');
      await gripwright.rows.nth(3).focus();
      await page.keyboard.press('Enter');
      await expect(gripwright.rows.nth(3)).toHaveAttribute('aria-current', 'true');
      await page.keyboard.press('Space');
      await expect(gripwright.stop).toBeVisible();
      // playing is not choosing: the row stays
      await expect(gripwright.rows.nth(3)).toHaveAttribute('aria-current', 'true');
      await page.keyboard.press('Escape');
      await expect(gripwright.play).toBeVisible();
    });

    await test.step('unfold the further grips of a position, and fold them again', async () => {
      // On strings 3, 4, 5, 6, 8 with the bar at 8 and nothing pressed all sound the chord (open
      // G♯ E B G♯ E): grips of three, 10 of them, without those that lack the third or keep one tone.
      await gripwright.open('?chord=C&frets=8-8&grip=3,4,5,6,8&sizes=3&match=complete');
      const fold = page.getByRole('button', { name: /^\d+ grips here/ }).first();
      await expect(gripwright.rows.first()).toHaveAccessibleName(/nothing engaged/);
      const folded = await gripwright.rows.count();
      await expect(fold).toHaveAttribute('aria-expanded', 'false');
      // Complete needs E, G and C: the only G is string 5, with C on 4 or 8 and E on 3 or 6: four.
      await expect(fold).toHaveAccessibleName('4 grips here: fret 8, nothing engaged');
      await fold.press('Enter');
      await expect(fold).toHaveAttribute('aria-expanded', 'true');
      await expect(gripwright.rows).toHaveCount(folded + 3);
      const here = (await gripwright.rowNames())
        .slice(0, 4)
        .map((name) => /strings ([\d ]+)/.exec(name)?.[1]);
      expect(here.sort()).toEqual(['3 4 5', '3 5 8', '4 5 6', '5 6 8']);

      // the arrow keys go through them as well
      await gripwright.rows.first().focus();
      await page.keyboard.press('ArrowDown');
      await expect(gripwright.rows.nth(1)).toBeFocused();
      await expect(gripwright.rows.nth(1)).toHaveAttribute('aria-current', 'true');

      await fold.press('Space');
      await expect(gripwright.rows).toHaveCount(folded);
      await expect(gripwright.rows.first()).toHaveAttribute('aria-current', 'true');
    });

    await test.step('come in portions, and more of them on request until all are there', async () => {
      // more positions than a first portion has
      await gripwright.open('?chord=C6%2F9');
      const total = Number(/in ([\d,]+) positions/.exec(await gripwright.heading.innerText())?.[1]);
      const more = page.getByRole('button', { name: /more positions?$/ });
      const shown = await gripwright.rows.count();
      await expect(more).toHaveText(`${total - shown} more positions`);
      for (let before = shown; await more.isVisible(); before = await gripwright.rows.count()) {
        await more.press('Enter');
        await expect.poll(() => gripwright.rows.count()).toBeGreaterThan(before);
        // a portion that still grows is not taken for the next one
        await gripwright.settle();
      }
      await expect(gripwright.rows).toHaveCount(total);
      // a position stands once
      const positions = (await gripwright.rowNames()).map((name) => name.split(', strings')[0]);
      expect(new Set(positions).size).toBe(total);
    });
  });
});

test('everything is reached and done from the keyboard, in the order in which it is read', async ({
  page,
  gripwright,
}) => {
  await gripwright.open();
  await tabTo(page, page.getByRole('link', { name: 'Bench' }), 7);
  await page.keyboard.press('Tab');
  await expect(gripwright.setup).toBeFocused();
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  const light = page.getByRole('button', { name: 'Light', exact: true });
  await expect(light).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(light).toBeHidden();
  await expect(page.getByRole('button', { name: 'Preferences' })).toBeFocused();
  await page.keyboard.press('Tab');
  await expect(gripwright.chord).toBeFocused();
  await page.keyboard.type('A');
  await page.keyboard.press('Tab');
  await expect(gripwright.key).toBeFocused();
  // A is at fret 5 with nothing pressed (E + 5)
  await gripwright.expectName('A major');
  await gripwright.expectFret(5);

  await page.keyboard.press('Tab');
  await expect(gripwright.play).toBeFocused();
  await page.keyboard.press('Enter');
  await expect(gripwright.stop).toBeFocused();
  await page.keyboard.press('Space');
  await expect(gripwright.play).toBeFocused();
  // the caution about loudness was dismissed by nobody yet
  await tabTo(page, page.getByRole('button', { name: 'Understood' }), 1);

  // the strings are one stop of Tab; the arrows go through them
  await tabTo(page, gripwright.string(1), 1);
  await page.keyboard.press('End');
  await expect(gripwright.string(10)).toBeFocused();
  await page.keyboard.press('ArrowUp');
  await expect(gripwright.string(9)).toBeFocused();
  await page.keyboard.press('Home');
  for (let down = 1; down < 6; down++) await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Space');
  await gripwright.expectPicked(3, 4, 5, 6);

  await tabTo(page, gripwright.bar, 1);
  await page.keyboard.press('Home');
  await expect(gripwright.bar).toHaveAttribute('aria-valuetext', 'open strings');
  // the lowest of strings 3 to 6 is string 6, G♯3
  await gripwright.expectName('E major over G sharp');
  await page.keyboard.press('PageUp');
  await page.keyboard.press('ArrowLeft');
  await gripwright.expectFret(4);
  await page.keyboard.press('End');
  await gripwright.expectFret(24);
  await page.keyboard.press('Home');

  // A+B on open strings: A (common practice)
  await tabTo(page, gripwright.control('A'), 9);
  await page.keyboard.press('Space');
  await tabTo(page, gripwright.control('B'), 1);
  await page.keyboard.press('Enter');
  await gripwright.expectName('A major');

  // then what to try at a first visit, the switch between rows, atlas and scale, and the limits
  await tabTo(page, page.getByRole('button', { name: 'Atlas', exact: true }), 9);
  await tabTo(page, page.getByRole('button', { name: 'Scale', exact: true }), 1);
  await tabTo(page, gripwright.limits, 1);
  // what is held is a row: Tab goes to it, to what plays it, to what unfolds it, and past the list
  await tabTo(page, gripwright.current, 1);
  await page.keyboard.press('ArrowUp');
  await expect(gripwright.current).toBeFocused();
  await page.keyboard.press('Tab');
  await expect(
    page.getByRole('button', { name: /^Play: / }).and(page.locator(':focus')),
  ).toBeVisible();
  await page.keyboard.press('Tab');
  await expect(
    page.getByRole('button', { name: /^\d+ grips here/ }).and(page.locator(':focus')),
  ).toBeVisible();

  // what is held is one of the voicings asked for, so it can be taken along
  await tabTo(page, page.getByRole('button', { name: 'Add to the piece' }), 2);
  await tabTo(page, page.locator('summary', { hasText: 'Effort' }), 1);
  await tabTo(page, page.locator('summary', { hasText: 'From here' }), 2);
  await tabTo(page, gripwright.more.locator('summary', { hasText: 'Sound' }), 1);
  await page.keyboard.press('Enter');
  const volume = page.getByRole('slider', { name: /^Volume/ });
  await expect(volume).toBeVisible();
  await tabTo(page, volume, 1);
  await page.keyboard.press('ArrowLeft');
  await expect(volume).toHaveAttribute('aria-valuetext', '65 percent');
  await tabTo(page, page.locator('summary', { hasText: 'Microphone' }), 13);
  await tabTo(page, page.locator('summary', { hasText: 'Tablature' }), 1);
  await tabTo(page, page.locator('summary', { hasText: 'Neck and bar' }), 1);
});
