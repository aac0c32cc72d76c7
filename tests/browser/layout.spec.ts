/** It fits: no sideways scrolling, targets a finger can hit. */
import { expect, keptPageTest as test } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

const WIDTHS = [360, 820, 1440];
const VIEWS = [
  ['C', ''],
  ['E7♯9 on up to six strings', '?chord=E7%239&sizes=3-6'],
  ['the double neck', '?setup=double&chord=C6'],
] as const;

for (const [what, address] of VIEWS)
  test.describe(what, () => {
    test.use({ viewport: { width: WIDTHS[0] ?? 360, height: 800 } });

    test('needs no sideways scrolling of the page, however wide it is', async ({
      page,
      gripwright,
    }) => {
      await gripwright.open(address);
      await expect(gripwright.rows.first()).toBeVisible();
      await gripwright.limits.click();
      await page
        .getByRole('button', { name: /^\d+ grips here/ })
        .first()
        .click();
      for (const width of WIDTHS)
        await test.step(`${width} pixels wide`, async () => {
          await page.setViewportSize({ width, height: 800 });
          // what is there can be seen: nothing is cut off at the right
          for (const place of [gripwright.play, gripwright.chord, gripwright.rows.first()])
            await expect
              .poll(async () => {
                const box = await place.boundingBox();
                return box && box.x >= 0 && box.x + box.width <= width;
              })
              .toBe(true);
          const [needed, given] = await page.evaluate(() => [
            document.documentElement.scrollWidth,
            document.documentElement.clientWidth,
          ]);
          expect(needed).toBeLessThanOrEqual(given ?? 0);
        });
    });
  });

test.describe('on a phone', () => {
  test.use({ viewport: { width: 360, height: 740 } });

  /** Width and height of everything that can be worked, the label of a tick with it. */
  const targets = (): { name: string; width: number; height: number }[] =>
    [...document.querySelectorAll('a, button, input, select, summary, [role="slider"]')]
      .map((element) => element.closest('label:has([type="checkbox"])') ?? element)
      .filter((element) => element.checkVisibility())
      .map((element) => {
        const { width, height } = element.getBoundingClientRect();
        const name = element.getAttribute('aria-label') ?? element.textContent.trim();
        return { name: `${element.tagName} ${name}`, width, height };
      });

  test('every target is at least 24 pixels in both directions, and what is used all the time 44', async ({
    page,
    gripwright,
  }) => {
    await gripwright.open();
    await gripwright.limits.click();
    const all = await page.evaluate(targets);

    await test.step('24 pixels', () => {
      // WCAG 2.2, success criterion 2.5.8, Target Size (Minimum)
      expect(all.filter(({ width, height }) => Math.min(width, height) < 24)).toEqual([]);
    });

    await test.step('44 pixels', () => {
      // WCAG 2.2, success criterion 2.5.5, Target Size (Enhanced)
      // Strings lie as near to one another as on the instrument, and the bar is as wide as a bar: it is
      // also held by the discs on it, which are 44 pixels wide, and a tap anywhere on the neck moves it.
      const asOnTheInstrument = /^BUTTON String \d|^g Bar$/;
      const small = all.filter(
        ({ name, height, width }) =>
          !asOnTheInstrument.test(name) && Math.min(width, height) < 43.9,
      );
      expect(small).toEqual([]);
    });
  });
});
