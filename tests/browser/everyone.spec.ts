/** What axe cannot see: a page of 320 pixels, names in words, headings in order, forced colours, stillness. */
import { type Page } from '@playwright/test';
import { expect, keptPageTest as test } from './page';
import { PLACES } from './places';

/** What makes a place as wide as it gets. */
const WIDE = [
  'bench/?setup=double',
  'bench/tuning/?against=equal&chords=E',
  'bench/tuning/?method=saved',
  'arrange/?setup=universal12',
  'arrange/?chords=G%20%7C%20Cmaj7&match=complete&sizes=4-4&frets=3-3',
  'change/?with=LKV:3%2B3&station=LKV',
];

const still = async (page: Page, place: string): Promise<void> => {
  await page.goto(place);
  await expect(page.getByRole('heading', { level: 1 })).toHaveCount(1);
  await page.waitForLoadState('networkidle');
  await expect(page.locator('[aria-busy="true"]')).toHaveCount(0, { timeout: 30_000 });
};

/** No wider than the window. */
async function expectNoScrollingSideways(page: Page, place: string): Promise<void> {
  const [needed, given] = await page.evaluate(() => [
    document.documentElement.scrollWidth,
    document.documentElement.clientWidth,
  ]);
  expect.soft(needed, `${place}: width needed`).toBeLessThanOrEqual(given ?? 0);
}

/** What is read aloud is in words, and headings follow one another in order. */
async function expectWordsInOrder(page: Page, place: string): Promise<void> {
  const found = await page.evaluate(() => ({
    signs: [...document.querySelectorAll('[aria-label], [aria-valuetext]')]
      .flatMap((each) => [each.getAttribute('aria-label'), each.getAttribute('aria-valuetext')])
      .filter((text) => /[♯♭𝄪𝄫]/u.test(text ?? '')),
    levels: [...document.querySelectorAll('h1, h2, h3, h4, h5, h6')].map(({ tagName }) =>
      Number(tagName[1]),
    ),
  }));
  expect.soft(found.signs, place).toEqual([]);
  found.levels.forEach((level, at) => {
    expect
      .soft(level, `${place}, heading ${at + 1}`)
      .toBeLessThanOrEqual((found.levels[at - 1] ?? 0) + 1);
  });
}

test.describe('four times enlarged', () => {
  // WCAG 2.2, 1.4.10: a page of 1,280 pixels at 400 % is one of 320
  test.use({ viewport: { width: 320, height: 640 } });
  // a walk of many steps in one page
  test.describe.configure({ timeout: 180_000 });
  for (const [what, places] of [
    ['every place', PLACES],
    ['what makes a place as wide as it gets', WIDE],
  ] as const)
    test(`${what} is read without scrolling sideways, in words and in order`, async ({ page }) => {
      for (const place of places)
        await test.step(place || 'Explore', async () => {
          await still(page, place);
          await expectNoScrollingSideways(page, place);
          await expectWordsInOrder(page, place);
        });
    });
});

test('with forced colours what is chosen, held and picked can still be told', async ({
  page,
  gripwright,
}) => {
  await page.emulateMedia({ forcedColors: 'active' });
  await gripwright.open('?chord=F');
  // not among those of the second row, which is A+B
  const pedal = gripwright.control('C');
  const rows = [gripwright.rows.nth(0), gripwright.rows.nth(1)] as const;
  const shots = async (): Promise<Buffer[]> => {
    // neither the pointer nor the focus is what is looked for
    await page.mouse.move(2, 2);
    await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
    return Promise.all([pedal, ...rows].map((each) => each.screenshot()));
  };
  const before = await shots();
  await rows[1].click();
  await pedal.click();
  const after = await shots();
  await expect(pedal).toHaveAttribute('aria-pressed', 'true');
  expect(after[0]?.equals(before[0] as Buffer), 'the pedal, free and pressed').toBe(false);
  expect(after[1]?.equals(before[1] as Buffer), 'the first row, held and not').toBe(false);

  /** How a link looks, as far as forced colours leave it. */
  const look = (of: ReturnType<Page['locator']>): Promise<string> =>
    of.evaluate((element) => {
      const { backgroundColor, borderBottom, outlineWidth, fontWeight } = getComputedStyle(element);
      return JSON.stringify([backgroundColor, borderBottom, outlineWidth, fontWeight]);
    });
  const here = page.getByRole('link', { name: 'Explore' });
  const there = page.getByRole('link', { name: 'Bench' });
  expect(await look(here)).not.toBe(await look(there));
});

test('who wants stillness gets it: nothing moves by itself', async ({ page, gripwright }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await gripwright.open();
  const moving = await page.evaluate(
    () =>
      [...document.querySelectorAll('*')].filter((each) => {
        const { transitionDuration, animationDuration, animationName } = getComputedStyle(each);
        const longest = Math.max(...transitionDuration.split(',').map(Number.parseFloat));
        return (
          longest > 0.001 ||
          (animationName !== 'none' && Number.parseFloat(animationDuration) > 0.001)
        );
      }).length,
  );
  expect(moving).toBe(0);
});
