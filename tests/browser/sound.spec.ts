/** What is heard, from the page to the speaker: read off at the outlet of the page's own audio context. */
import { readFile } from 'node:fs/promises';
import { PitchDetector } from 'pitchy';
import { type Page } from '@playwright/test';
import { heard, listen } from './outlet';
import { expect, keptPageTest as test } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

const semitonesFrom = (hz: number, midi: number): number =>
  Math.abs(12 * Math.log2(hz / 440) + 69 - midi);

/** Waits until a pitch is heard, to a third of a semitone. */
const expectPitch = (page: Page, midi: number) =>
  expect
    .poll(async () => semitonesFrom((await heard(page)).hz, midi), { timeout: 8000 })
    .toBeLessThan(0.33);

test('while a string rings, controls bend it, the bar takes it along, and it falls silent', async ({
  page,
  gripwright,
}) => {
  await listen(page);
  /** Strikes it anew, silenced or not. */
  const strike = async (midi: number): Promise<void> => {
    await page.keyboard.press('Escape');
    await gripwright.play.click();
    await expectPitch(page, midi);
  };
  // string 5 alone at fret 8: B3 + 8 is G4 (MIDI 67)
  await gripwright.open('?at=8&strings=5');

  await test.step('a control bends it, and lets it back', async () => {
    await strike(67);
    // A raises string 5 by two semitones (common practice)
    await gripwright.control('A').click();
    await expectPitch(page, 69);
    await expect(gripwright.stop).toBeVisible();
    await gripwright.control('A').click();
    await expectPitch(page, 67);
  });

  await test.step('the bar takes it along', async () => {
    await strike(67);
    await gripwright.bar.press('ArrowRight');
    await gripwright.bar.press('ArrowRight');
    await expectPitch(page, 69);
    await expect(gripwright.stop).toBeVisible();
  });

  await test.step('Escape silences it', async () => {
    await strike(69);
    await page.keyboard.press('Escape');
    await expect(gripwright.play).toBeVisible();
    await expect.poll(async () => (await heard(page)).loudness).toBeLessThan(0.003);
  });

  await test.step('the volume turns it down to nothing', async () => {
    await gripwright.unfold('Sound');
    const volume = page.getByRole('slider', { name: /^Volume/ });
    await strike(69);
    await volume.press('Home');
    await expect.poll(async () => (await heard(page)).loudness).toBeLessThan(0.001);
    await volume.press('End');
  });

  await test.step('a tab out of sight falls silent', async () => {
    await strike(69);
    await page.evaluate(() => {
      Object.defineProperty(document, 'hidden', { get: () => true });
      document.dispatchEvent(new Event('visibilitychange'));
    });
    await expect(gripwright.play).toBeVisible();
    await expect.poll(async () => (await heard(page)).loudness).toBeLessThan(0.003);
  });

  await test.step('another string is not bent by a control that does not pull it', async () => {
    // string 4 at the nut: E4; A pulls strings 5 and 10 alone
    await gripwright.open('?at=0&strings=4');
    await strike(64);
    await gripwright.control('A').click();
    await expectPitch(page, 64);
  });
});

test('the caution comes once, what is chosen is remembered, and what is held is saved', async ({
  page,
  gripwright,
}) => {
  await test.step('the caution comes with the first sound, once', async () => {
    const caution = page.getByText('Long loud listening harms hearing.');
    await gripwright.open();
    await expect(caution).toBeHidden();
    await gripwright.play.click();
    await expect(caution).toBeVisible();
    await page.getByRole('button', { name: 'Understood' }).click();
    await expect(caution).toBeHidden();
    await page.reload();
    await gripwright.play.click();
    await expect(gripwright.stop).toBeVisible();
    await expect(caution).toBeHidden();
  });

  await test.step('what is held is saved as a file of sound', async () => {
    await gripwright.open('?chord=C%23m7&at=0&strings=4');
    const sound = page.getByRole('region', { name: 'Sound' });
    await gripwright.unfold('Sound');
    const download = page.waitForEvent('download');
    await sound.getByRole('button', { name: 'Save this sound (WAV)' }).click();
    const saved = await download;
    expect(saved.suggestedFilename()).toMatch(/^[\w-]+\.wav$/);
    const bytes = await readFile(await saved.path());
    expect(bytes.toString('latin1', 0, 4)).toBe('RIFF');
    expect(bytes.toString('latin1', 8, 12)).toBe('WAVE');
    // E4 on the open string, one second in
    const rate = bytes.readUInt32LE(24);
    const wave = Array.from(
      { length: 8192 },
      (_, i) => bytes.readInt16LE(44 + 4 * (rate + i)) / 32_767,
    );
    const [hz] = PitchDetector.forNumberArray(8192).findPitch(wave, rate);
    expect(Math.abs(1200 * Math.log2(hz / 329.63))).toBeLessThan(1);
    await expect(page.getByRole('alert')).toHaveCount(0);
  });

  await test.step('volume, voice and manner are remembered on this device', async () => {
    await gripwright.open();
    await gripwright.unfold('Sound');
    const volume = page.getByRole('slider', { name: /^Volume/ });
    await expect(volume).toHaveValue('0.7');
    await volume.press('ArrowLeft');
    await volume.press('ArrowLeft');
    await expect(volume).toHaveAttribute('aria-valuetext', '60 percent');
    const sound = page.getByRole('region', { name: 'Sound' });
    await sound.getByRole('combobox', { name: 'Voice' }).selectOption('plain tone');
    await sound.getByRole('combobox', { name: 'Strings' }).selectOption('one by one');
    await sound.getByRole('checkbox', { name: 'Bar vibrato' }).check();
    await page.reload();
    await gripwright.unfold('Sound');
    await expect(volume).toHaveValue('0.6');
    await expect(sound.locator('summary')).toContainText('plain tone, one by one, vibrato');
  });
});

test('a page without an audio thread sounds all the same', async ({
  page,
  gripwright,
  trouble,
}) => {
  // browsers warn of the old way, and offer no other on an address that is not secure
  trouble.allow(/ScriptProcessorNode/);
  await page.addInitScript(() => {
    delete (BaseAudioContext.prototype as { audioWorklet?: unknown }).audioWorklet;
  });
  await listen(page);
  await gripwright.open('?at=8&strings=5');
  await gripwright.play.click();
  await expectPitch(page, 67);
  await gripwright.control('A').click();
  await expectPitch(page, 69);
});
