/**
 * Change: what one pull more, less or otherwise gives and takes, as it is pressed, written and seen.
 * What is weighed, listed and written into the address is `tests/unit/ui/change.test.ts`, the search
 * for pulls `tests/unit/ui/suggestRun.test.ts`.
 */
import type { Locator, Page } from '@playwright/test';
import { expectNoObjection } from './axe';
import { expect, keptPageTest as test } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

const sum = (page: Page): Locator => page.locator('.sum');
const line = (page: Page): Locator => page.getByRole('textbox', { name: /^Pulls in one line/ });
/** `6 easier, 1,234 new, 5 lost` as numbers. */
async function counts(page: Page): Promise<Record<'new' | 'lost' | 'easier', number>> {
  await expect(sum(page)).toHaveAttribute('aria-busy', 'false');
  await expect(sum(page)).toContainText(/[\d,]+ easier,\s+[\d,]+ new,\s+[\d,]+ lost/);
  const text = (await sum(page).textContent()) ?? '';
  const of = (what: string): number =>
    Number(new RegExp(`([\\d,]+)\\s+${what}`).exec(text)?.[1]?.replaceAll(',', ''));
  return { new: of('new'), lost: of('lost'), easier: of('easier') };
}
async function open(page: Page, address = ''): Promise<void> {
  await page.goto(`change/${address}`);
  await expect(page.getByRole('region', { name: 'What it gives' })).toBeVisible();
  await expect(page.getByRole('region', { name: 'Voicings' }).getByRole('status')).toBeVisible();
}

test('a pull is given, a control taken away, put in question, and a line refused', async ({
  page,
}) => {
  await test.step('a pull on a free station, until it is discarded', async () => {
    await open(page, '?station=RKV');
    await page.getByRole('button', { name: /^Raise string 1\b/ }).click();
    // a lever that need not be pressed takes nothing from what there was
    const first = await counts(page);
    expect(first.new).toBeGreaterThan(0);
    expect(first.lost).toBe(0);
    await expect(page).toHaveURL(/with=RKV:1%2B1/);
    await page.reload();
    await expect.poll(() => counts(page)).toEqual(first);
    await page.getByRole('button', { name: 'Discard' }).click();
    await expect(sum(page)).toContainText('Nothing is proposed yet.');
    await expect(page).not.toHaveURL(/with=/);
  });

  await test.step('a control taken away, until it is restored, and what it makes possible', async () => {
    await page.getByRole('button', { name: /^Pedal A\b/ }).click();
    await expect(page).toHaveURL(/station=P1/);
    await page.getByRole('button', { name: 'Remove A' }).click();
    // whatever is played without A was played before
    const { new: gained, lost } = await counts(page);
    expect(gained).toBe(0);
    expect(lost).toBeGreaterThan(0);
    await page.getByRole('button', { name: 'Restore A' }).click();
    await expect(sum(page)).toContainText('Nothing is proposed yet.');
    // the same numbers the other way round
    await page.getByRole('button', { name: 'What does A make possible?' }).click();
    await expect(page.getByRole('heading', { name: 'Without A and with it' })).toBeVisible();
    expect((await counts(page)).new).toBe(lost);
    await page.getByRole('button', { name: 'Back to the pull' }).click();
    await expect(sum(page)).toContainText('Nothing is proposed yet.');
  });

  await test.step('a line that cannot be read is refused beside it, and nothing is changed', async () => {
    await page.getByRole('button', { name: /^Lever LKV\b/ }).click();
    await line(page).fill('5+9, 99-1');
    await line(page).press('Enter');
    await expect(line(page)).toHaveAttribute('aria-invalid', 'true');
    await expect(page.getByText(/^⚠ Found “5\+9”; allowed is /)).toBeVisible();
    await expect(sum(page)).toContainText('Nothing is proposed yet.');
    await line(page).fill('5-1, 10-1, 6+1');
    await line(page).press('Enter');
    await expect(sum(page)).toContainText('LKV');
    expect((await counts(page)).new).toBeGreaterThan(0);
  });
});

test('a search for pulls stops when it is told to, goes on, and comes to its end', async ({
  page,
}) => {
  await open(page, '?station=RKV');
  await page.getByRole('button', { name: 'Search for the best pulls' }).click();
  const said = page.getByRole('region', { name: 'Suggest' }).getByRole('status');
  // a list that changes while it is read is short, once it has grown to what it shows so far
  const reading = await page.waitForFunction(() => {
    const suggest = document.querySelector('[aria-label="Suggest"]');
    const stop = suggest?.querySelector<HTMLButtonElement>('.run button');
    const running = stop?.textContent.trim() === 'Stop';
    const grown = suggest?.querySelector('ol')?.getAttribute('aria-busy') !== 'true';
    const count = suggest?.querySelectorAll('ol li').length ?? 0;
    if (!running || !grown || count <= 2) return false;
    // pressed in the same moment, since the search may be at its end in the next
    stop?.click();
    return count;
  });
  expect(await reading.jsonValue()).toBe(5);
  await expect(said).toContainText('stopped');
  await page.getByRole('button', { name: 'Resume' }).click();
  await expect(said).toContainText('all of them', { timeout: 60_000 });
  const [tried, all] =
    /([\d,]+) of ([\d,]+) tried/.exec((await said.textContent()) ?? '')?.slice(1) ?? [];
  expect(tried).toBe(all);
  const shown = page
    .getByRole('list', { name: 'Pull sets, highest score first' })
    .getByRole('listitem');
  await expect(shown).toHaveCount(24);
  const scores = await shown
    .locator('.score')
    .evaluateAll((each) =>
      each.map((score) => Number((score as HTMLElement).title.replace(/[^\d.]/g, ''))),
    );
  expect(scores).toEqual([...scores].sort((a, b) => b - a));
  // three things that one would play with it, each to be heard
  await expect(shown.first().getByRole('button', { name: /^Play: .* becomes / })).toHaveCount(3);

  await test.step('two stations at once, with what each string more gives', async () => {
    await page.goto('change/?station=RKV&upto=1&setup=lap6-c6');
    await page.getByText('Several stations at once').click();
    await page.getByLabel('Second station').selectOption('LKV');
    await page.getByRole('button', { name: 'Search both' }).click();
    const both = page
      .getByRole('region', { name: 'Several stations at once' })
      .getByRole('status')
      .filter({ hasText: 'looked at' });
    await expect(both).toContainText('all of them', { timeout: 60_000 });
    const steps = page.getByRole('list', { name: 'Best score by strings moved' });
    await expect(steps.getByRole('button')).toHaveCount(2);
    await steps.getByRole('button').last().click();
    await expect(page).toHaveURL(/with=LKV:.*with=RKV:/);
    await expectNoObjection(page);
  });
});
