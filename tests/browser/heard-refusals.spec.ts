/**
 * What keeps a microphone from hearing, each said in a sentence where somebody listens: Chromium's stand-in for a
 * microphone plays what is too soft, nothing at all and what is too loud; permission is denied, and the
 * microphone is not there.
 */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { wavBytes } from '../../src/lib/formats/wav';
import { hearingFile } from './fakeMicrophone';
import { expectNoObjection } from './axe';
import { expect, keptPageTest as test } from './page';

const RATE = 48_000;
/** Seconds of what is far too soft, of nothing at all, and of a tone that is cut at full scale. */
const [SOFT_S, NOTHING_S, LOUD_S] = [7.5, 1.5, 20];
const file = join(mkdtempSync(join(tmpdir(), 'refused-')), 'sound.wav');
writeFileSync(
  file,
  wavBytes(
    [
      Float32Array.from({ length: (SOFT_S + NOTHING_S + LOUD_S) * RATE }, (_, i) => {
        const tone = Math.sin((2 * Math.PI * 330 * i) / RATE);
        if (i < SOFT_S * RATE) return 0.0004 * tone;
        return i < (SOFT_S + NOTHING_S) * RATE ? 0 : Math.max(-1, Math.min(1, 2 * tone));
      }),
    ],
    RATE,
  ),
);
test.use({
  launchOptions: hearingFile(file),
});

const NO_LEAVE = /The browser was not allowed to use the microphone\. Allow it in the address bar/;

test('whatever keeps a microphone from hearing is said in a sentence', async ({
  page,
  gripwright,
  trouble,
}) => {
  test.setTimeout(90_000);
  const listen = page.getByRole('button', { name: 'Listen', exact: true });
  const refused = page.getByRole('alert');

  await test.step('permission that was denied', async () => {
    // the browser itself refuses: a page of this address may not have it
    trouble.allow(/^Permissions policy violation: microphone/);
    const denied = { 'permissions-policy': 'microphone=()' };
    await page.route(/\/(practice\/|\?at=8.*)$/, async (route) => {
      const response = await route.fetch();
      await route.fulfill({ response, headers: { ...response.headers(), ...denied } });
    });
    await gripwright.open('?at=8&strings=3,4,5');
    await gripwright.unfold('Microphone');
    await listen.click();
    await expect(refused).toHaveText(NO_LEAVE);
    await expectNoObjection(page, 'a microphone that is refused');
    await page.goto('practice/');
    await page.getByRole('button', { name: /^Begin/ }).click();
    await listen.click();
    await expect(refused).toHaveText(NO_LEAVE);
    await page.unrouteAll();
  });

  await test.step('too soft, nothing at all, too loud', async () => {
    await gripwright.open('?at=8&strings=3,4,5');
    await gripwright.unfold('Microphone');
    await listen.click();
    const said = page.getByRole('status').filter({ hasText: '⚠' });
    await expect(said).toContainText('Too soft to be heard.', { timeout: 20_000 });
    await expect(said).toContainText('gives no sound at all. Is it switched off');
    await expect(said).toContainText('Too loud: the microphone is at its end.');
    await expect(refused).toHaveCount(0);
    await page.getByRole('button', { name: 'Stop listening' }).click();
    await expect(said).toHaveCount(0);
  });

  await test.step('no microphone is there', async () => {
    await page.evaluate(() => {
      // as browsers say it
      const none = (): Promise<never> =>
        Promise.reject(new DOMException('Requested device not found', 'NotFoundError'));
      Object.assign(navigator.mediaDevices, { getUserMedia: none });
    });
    await listen.click();
    await expect(refused).toHaveText(
      '⚠ No microphone was found. Plug one in, and press Listen again.',
    );
  });
});
