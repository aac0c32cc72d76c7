/** Light, dark, stillness, and paper. */
import { type Page } from '@playwright/test';
import { expect, keptPageTest as test } from './page';

/** How light the page's ground is, 0 to 255. */
const ground = (page: Page): Promise<number> =>
  page.evaluate(() => {
    const [red = 0, green = 0, blue = 0] = (
      getComputedStyle(document.body).backgroundColor.match(/\d+/g) ?? []
    ).map(Number);
    return (red + green + blue) / 3;
  });

test('light and dark follow the system until one is chosen, which is remembered', async ({
  page,
  gripwright,
}) => {
  await page.emulateMedia({ colorScheme: 'light' });
  await gripwright.open();
  await expect.poll(() => ground(page)).toBeGreaterThan(200);
  await page.emulateMedia({ colorScheme: 'dark' });
  await expect.poll(() => ground(page)).toBeLessThan(60);

  await gripwright.chooseTheme('Light');
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'light');
  await expect.poll(() => ground(page)).toBeGreaterThan(200);
  await page.reload();
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'light');
  await page.getByRole('button', { name: 'Preferences' }).click();
  await expect(page.getByRole('button', { name: 'Light', exact: true })).toHaveAttribute(
    'aria-pressed',
    'true',
  );
  await page.keyboard.press('Escape');
  await expect.poll(() => ground(page)).toBeGreaterThan(200);

  await gripwright.chooseTheme('Dark');
  await page.reload();
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'dark');
  await expect.poll(() => ground(page)).toBeLessThan(60);

  await gripwright.chooseTheme('System');
  await page.reload();
  await expect(page.locator('html')).not.toHaveAttribute('data-theme');
});

test('nothing moves by itself for those who ask for stillness', async ({ page, gripwright }) => {
  const moving = (): string[] =>
    [...document.querySelectorAll('body, body *')]
      .filter((element) => {
        const { transitionDuration, animationName } = getComputedStyle(element);
        return animationName !== 'none' || /[1-9]/.test(transitionDuration);
      })
      .map((element) => element.tagName);
  await page.emulateMedia({ reducedMotion: 'no-preference' });
  await gripwright.open();
  await expect(gripwright.rows.first()).toBeVisible();
  expect(await page.evaluate(moving)).not.toEqual([]);
  await page.emulateMedia({ reducedMotion: 'reduce' });
  expect(await page.evaluate(moving)).toEqual([]);
});

test('paper has the neck and the rows, without the interface around them', async ({
  page,
  gripwright,
}) => {
  await gripwright.open();
  await expect(gripwright.rows.first()).toBeVisible();
  await page.emulateMedia({ media: 'print' });
  const neck = page.getByRole('region', { name: 'Neck' });
  await expect(neck.locator('svg').filter({ has: gripwright.bar })).toBeVisible();
  await expect(page.getByRole('group', { name: 'Pedals and levers' })).toBeVisible();
  await expect(gripwright.rows.first()).toBeVisible();
  await expect(gripwright.rows.first()).toContainText('E5 C5 G4');

  for (const field of [gripwright.chord, gripwright.key, gripwright.setup, gripwright.limits])
    await expect(field).toBeHidden();
  await expect(gripwright.play).toBeHidden();
  for (const name of ['Preferences', 'Limits', 'Rows', 'Atlas', 'More', 'Add to the piece'])
    await expect(page.getByRole('button', { name, exact: true })).toBeHidden();
  for (const title of ['Sound', 'Neck and bar'])
    await expect(page.locator('summary', { hasText: title })).toBeHidden();
  await expect(page.getByRole('button', { name: /more positions$/ })).toBeHidden();
  await expect(page.getByRole('button', { name: /^Play: / }).first()).toBeHidden();
});

test('nothing on the neck glides into its place while the page opens, and the bar glides after', async ({
  page,
  gripwright,
}) => {
  // narrower than what is laid out before the room is known
  await page.setViewportSize({ width: 820, height: 900 });
  await page.addInitScript(() => {
    const glided: string[] = [];
    Object.assign(globalThis, { glided });
    document.addEventListener(
      'transitionrun',
      ({ target, propertyName }) => {
        const on = target as Element;
        if (on.closest('[aria-label^="Neck:"]'))
          glided.push(`${on.getAttribute('class') ?? ''}: ${propertyName}`);
      },
      true,
    );
  });
  const glided = (): Promise<string[]> =>
    page.evaluate(() => Reflect.get(globalThis, 'glided') as string[]);
  await gripwright.open();
  expect(await glided()).toEqual([]);
  await gripwright.bar.press('ArrowRight');
  await expect.poll(glided).toEqual([expect.stringMatching(/^hand .*: transform$/)]);
});
