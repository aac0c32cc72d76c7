/** Keeping under bad conditions, at length: tabs killed dozens of times, a disk that is really full. */
import { randomFrom } from '../../random';
import { SEED } from '../../seed';
import { fullDevice } from '../fullDevice';
import { killWhileEditing } from '../killing';
import { test } from '../page';

test('tabs killed in the middle of a thousand edits have each lost at most the last', async ({
  context,
}) => {
  await killWhileEditing(context, 1000, randomFrom(SEED));
});

test('a disk that is really full', async ({ page, trouble }) => {
  const origin = (): string => new URL(page.url()).origin;
  const session = await page.context().newCDPSession(page);
  await fullDevice(page, trouble, {
    fill: async () => {
      await session.send('Storage.overrideQuotaForOrigin', { origin: origin(), quotaSize: 1 });
      // Chromium goes by the room that it saw at the last write, for half a minute
      await page.waitForTimeout(31_000);
    },
    makeRoom: async () => {
      await session.send('Storage.overrideQuotaForOrigin', { origin: origin() });
    },
  });
});
