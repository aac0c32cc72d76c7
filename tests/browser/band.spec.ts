/** The rhythm section in the page: what it is asked to sound, and when. */
import { expect, test } from '@playwright/test';
import { writeDown, written, type Asked } from './writtenDown';

test('a band plays along on the strings’ own clock, on a loaded device, and follows what is changed', async ({
  page,
}) => {
  const refused: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') refused.push(message.text());
  });
  page.on('pageerror', (error) => refused.push(error.message));
  await writeDown(page);
  await page.goto('arrange/');
  const chords = page.getByRole('textbox', { name: /^Chords/ });
  // what is typed is taken once the page is there
  await expect(page.locator('.strip ol > li').first()).toBeVisible();
  await chords.fill('tempo: 120\nG');
  await expect(page.locator('.strip ol > li')).toHaveCount(1);
  await page.getByRole('checkbox', { name: 'Loop' }).check();
  await page.getByRole('button', { name: 'Band', exact: true }).click();
  const panel = page.getByRole('group', { name: 'Band' });
  await expect(panel).toContainText('Long loud listening harms hearing');
  await panel.getByRole('combobox', { name: 'Feel' }).selectOption('Two-beat');
  await panel.getByRole('checkbox', { name: 'Click' }).check();
  const play = page.getByRole('button', { name: 'Play', exact: true });

  await test.step('everything lies on its beat, and was asked for before', async () => {
    const slow = await page.context().newCDPSession(page);
    await slow.send('Emulation.setCPUThrottlingRate', { rate: 4 });
    await play.click();
    // counted in for two seconds, it is in its second round after four
    await expect
      .poll(async () => (await written(page)).strings.length, { timeout: 20_000 })
      .toBeGreaterThan(3);
    const { strings, band } = await written(page);
    const [{ at: first }] = strings as [Asked];
    expect(band.some(({ at }) => Math.abs(at - first) < 0.001)).toBe(true);
    // clicks, drums, bass and chords of a two-beat lie on eighths, a quarter of a second each
    for (const { at, now } of band) {
      const beats = (at - first) / 0.5;
      expect(Math.abs(2 * beats - Math.round(2 * beats)) * 0.25).toBeLessThan(0.001);
      expect(at).toBeGreaterThan(now);
    }
    for (const { at, now } of strings) expect(at).toBeGreaterThan(now - 0.004);
    await slow.send('Emulation.setCPUThrottlingRate', { rate: 1 });
    await slow.detach();
  });

  await test.step('the tempo is changed while it plays', async () => {
    const tempo = page.getByRole('spinbutton', { name: 'Tempo', exact: true });
    await tempo.fill('240');
    await tempo.blur();
    const from = Math.max(...(await written(page)).band.map(({ at }) => at)) + 0.5;
    await expect
      .poll(async () => Math.max(...(await written(page)).band.map(({ at }) => at)), {
        timeout: 20_000,
      })
      .toBeGreaterThan(from + 1);
    const later = (await written(page)).band.map(({ at }) => at).filter((at) => at > from);
    const start = Math.min(...later);
    for (const at of later) {
      const eighths = (at - start) / 0.125;
      expect(Math.abs(eighths - Math.round(eighths)) * 0.125).toBeLessThan(0.001);
    }
  });

  await test.step('Stop ends it, and nothing was against the rules of the site', async () => {
    await page.getByRole('button', { name: 'Stop', exact: true }).click();
    await expect(play).toBeVisible();
    const before = (await written(page)).band.length;
    // what sounded has been taken apart by then
    await page.waitForTimeout(600);
    expect((await written(page)).band.length).toBe(before);
    expect(refused).toEqual([]);
  });

  await test.step('a drone that is none is said, and what was chosen is remembered', async () => {
    const drone = panel.getByRole('textbox', { name: 'Drone' });
    await drone.fill('H#x');
    await drone.blur();
    await expect(panel.getByRole('status').filter({ hasText: '⚠' })).toHaveCount(1);
    await drone.fill('Em');
    await drone.blur();
    await page.reload();
    await page.getByRole('button', { name: 'Band', exact: true }).click();
    await expect(panel.getByRole('combobox', { name: 'Feel' })).toHaveValue('two-beat');
    await expect(drone).toHaveValue('Em');
  });
});
