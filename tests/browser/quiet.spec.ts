/** Nothing leaves the device, whatever is done. */
import { expect, test } from './page';

test('a whole visit asks nothing of any other host and sends nothing', async ({
  page,
  gripwright,
  trouble,
  baseURL,
}) => {
  const sent: string[] = [];
  page.on('request', (request) => {
    if (request.method() !== 'GET' || request.postData() !== null) sent.push(request.url());
  });
  page.on('websocket', (socket) => sent.push(socket.url()));

  await gripwright.open();
  await gripwright.ask('E7#9');
  await gripwright.limits.click();
  await gripwright.setLimit('Strings at once', '3-6');
  await gripwright.rows.nth(1).click();
  await gripwright.play.click();
  await expect(gripwright.stop).toBeVisible();
  await gripwright.stop.click();
  await gripwright.control('B').click();
  await gripwright.string(7).click();
  await gripwright.setup.selectOption({ label: 'Square neck, open G' });
  await gripwright.ask('G');
  await expect(gripwright.heading).toContainText(/^G /);
  await gripwright.chooseTheme('Dark');
  await page.goBack();
  await page.reload();
  await expect(gripwright.rows.first()).toBeVisible();

  expect(trouble.requests.length).toBeGreaterThan(5);
  expect(trouble.elsewhere(baseURL ?? '')).toEqual([]);
  expect(sent).toEqual([]);
  expect(await page.context().cookies()).toEqual([]);
});

test('what was loaded once goes on working without a network', async ({
  context,
  gripwright,
  trouble,
}) => {
  // the browser asks for the tab's picture anew whenever the address changes
  trouble.allow(/icon\.svg/);
  await gripwright.open();
  await gripwright.play.click();
  await expect(gripwright.stop).toBeVisible();
  await gripwright.stop.click();
  await context.setOffline(true);
  await gripwright.ask('Bb7');
  await expect(gripwright.heading).toContainText(/^B♭7 /);
  await gripwright.rows.nth(1).click();
  await gripwright.play.click();
  await expect(gripwright.stop).toBeVisible();
});
