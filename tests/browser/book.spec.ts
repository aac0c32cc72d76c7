/** The chord book, the address on paper, and pictures: one walk. */
import { readFileSync } from 'node:fs';
import { expect, keptPageTest as test } from './page';

test.describe.configure({ timeout: 120_000 });

test('a book is chosen, saved, and points where the reader says; the neck is saved as a picture', async ({
  page,
}) => {
  const saved = async (press: string): Promise<Buffer> => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: press }).click(),
    ]);
    return readFileSync(await download.path());
  };

  await test.step('what it holds stands in the address', async () => {
    await page.goto('book/?setup=lap6-c6&paper=A4&parts=first,chords&types=maj');
    await expect(page.locator('.papers svg').first()).toContainText('Contents');
    await page.getByRole('combobox', { name: 'Key' }).selectOption('G major');
    await expect(page).toHaveURL(/key=G/);
    // G major has its triads on G, C and D (any textbook)
    await expect(page.locator('.papers svg').nth(2)).toContainText('D, major');
    await page.getByRole('textbox', { name: 'Chord types' }).fill('maj, nonsense');
    await page.getByRole('textbox', { name: 'Chord types' }).press('Tab');
    await expect(page.locator('.fault').filter({ hasText: 'nonsense' })).toBeVisible();
    await page.getByRole('textbox', { name: 'Chord types' }).fill('maj');
    await page.getByRole('textbox', { name: 'Chord types' }).press('Tab');
  });

  await test.step('its code says that it points to this machine, until an address is set', async () => {
    await expect(page.locator('.papers svg').first()).toContainText('this machine alone');
    await page.getByRole('button', { name: 'Preferences' }).click();
    const address = page.getByRole('textbox', { name: 'Address on paper' });
    await address.fill('steel.example.org');
    await address.press('Tab');
    await expect(page.getByText('allowed is an address that begins with')).toBeVisible();
    await address.fill('https://steel.example.org');
    await address.press('Tab');
    await page.keyboard.press('Escape');
    await expect(page.locator('.papers svg').first()).toContainText('https://steel.example.org/');
    await expect(page.locator('.papers svg').first()).not.toContainText('this machine alone');
    expect((await saved('Save PDF')).toString('latin1', 0, 8)).toBe('%PDF-1.7');
  });

  await test.step('the copedent is saved as a picture, its letters with it', async () => {
    await page.goto('bench/');
    await page.getByRole('button', { name: 'Picture of the copedent' }).click();
    const svg = (await saved('Save SVG')).toString('utf8');
    // as on the bench: pedal A raises the B of string 5 by two semitones, to C sharp
    for (const words of ['E9, three pedals and five levers', 'F♯4', 'C♯', '+2', 'LKV'])
      expect(svg).toContain(`>${words}</text>`);
    const png = await saved('Save PNG');
    const ink = await page.evaluate(async (base64) => {
      const bytes = Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0));
      const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
      const canvas = new OffscreenCanvas(image.width, image.height).getContext('2d');
      if (canvas === null) throw new Error('no canvas');
      canvas.drawImage(image, 0, 0);
      // the title alone stands in the first 13 mm; 7.56 dots a millimetre
      const { data } = canvas.getImageData(0, 0, image.width, 98);
      return data.filter((level, at) => at % 4 === 0 && level < 128).length;
    }, png.toString('base64'));
    expect(ink).toBeGreaterThan(500);
  });

  await test.step('the chart of a comparison is saved as PNG, twice as fine as it is wide', async () => {
    await page.goto('compare/');
    await page.getByRole('button', { name: 'Picture of the chart' }).click();
    const png = await saved('Save PNG');
    expect(png.toString('latin1', 1, 4)).toBe('PNG');
    // 180 mm at 96 dots an inch, twice (PNG, third edition, 11.2.1: the width stands at byte 16)
    expect(png.readUInt32BE(16)).toBe(Math.round((180 / 25.4) * 96 * 2));
    await page.evaluate(() => {
      Object.defineProperty(navigator, 'clipboard', { value: undefined, configurable: true });
    });
    await page.getByRole('button', { name: 'Copy PNG' }).click();
    await expect(page.getByText('Save it instead.')).toBeVisible();
  });
});
