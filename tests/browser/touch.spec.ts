/** The same table under a finger, on a phone. */
import { expect, test } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

test.use({ hasTouch: true, isMobile: true, viewport: { width: 360, height: 740 } });

test('a finger presses controls, picks strings, plays, and drags the bar', async ({
  gripwright,
  page,
}) => {
  await test.step('a finger presses controls, picks strings and plays', async () => {
    await gripwright.open();
    await gripwright.control('A').tap();
    // Common practice: A is C♯ minor + f; at fret 8 that is A minor.
    await gripwright.expectName('A minor');
    await gripwright.string(6).tap();
    await gripwright.expectPicked(3, 4, 5, 6);
    // string 6 is lower: G♯3 + 8 is E4
    await gripwright.expectName('A minor over E');
    await gripwright.string(3).tap();
    await gripwright.expectPicked(4, 5, 6);
    await gripwright.control('A').tap();
    await gripwright.expectName('C major');
    await gripwright.play.tap();
    await expect(gripwright.stop).toBeVisible();
  });

  await test.step('the table stays in view while the rows scroll under it', async () => {
    await gripwright.rows.nth(20).scrollIntoViewIfNeeded();
    await expect(gripwright.bar).toBeInViewport();
    await gripwright.rows.nth(20).tap();
    await expect(gripwright.rows.nth(20)).toHaveAttribute('aria-current', 'true');
    await expect(gripwright.bar).toBeInViewport();
  });

  await test.step('a finger drags the bar', async () => {
    await page.emulateMedia({ reducedMotion: 'reduce' });
    await gripwright.open();
    const box = await gripwright.bar.boundingBox();
    if (!box) throw new Error('the bar is not to be seen');
    const from = { x: Math.round(box.x + box.width / 2), y: Math.round(box.y + 20) };
    const fingers = await page.context().newCDPSession(page);
    const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', x?: number) =>
      fingers.send('Input.dispatchTouchEvent', {
        type,
        touchPoints: x === undefined ? [] : [{ x, y: from.y }],
      });
    await touch('touchStart', from.x);
    for (const step of [10, 25, 40, 55]) await touch('touchMove', from.x + step);
    await touch('touchEnd');
    await expect
      .poll(async () => Number(await gripwright.bar.getAttribute('aria-valuenow')))
      .toBeGreaterThan(8);
    // the bar moves every string alike: what was major stays major
    await expect(
      page.getByText(/^[A-G]( sharp| flat)? major over [A-G]( sharp| flat)?$/),
    ).toBeVisible();
    // the page itself has not been pushed aside
    expect(await page.evaluate(() => scrollX)).toBe(0);
  });
});
