/** axe finds nothing to object to, wherever a player may be. */
import { type Page } from '@playwright/test';
import { expectNoObjection } from './axe';
import { BenchPage } from './benchPage';
import { expect, test, type Gripwright } from './page';

interface Place {
  readonly what: string;
  readonly address?: string;
  readonly dark?: true;
  readonly phone?: true;
  readonly then?: (gripwright: Gripwright, page: Page) => Promise<void>;
}

const PLACES: readonly Place[] = [
  { what: 'the first visit' },
  { what: 'the first visit in the dark', dark: true },
  { what: 'a phone', phone: true },
  { what: 'a phone in the dark, limits open', phone: true, dark: true, then: openLimits },
  { what: 'the limits', then: openLimits },
  { what: 'the sound, with its caution', then: openSound },
  { what: 'the sound on a phone in the dark', phone: true, dark: true, then: openSound },
  {
    what: 'unfolded grips',
    then: async (gripwright, page) => {
      await page
        .getByRole('button', { name: /grips here$/ })
        .first()
        .click();
      await gripwright.rows.nth(1).focus();
    },
  },
  {
    what: 'controls engaged, one at its half-stop',
    address: '?at=3&engaged=A,LKL,RKR:half&strings=3,4,5,6',
  },
  {
    what: 'a chord and a limit that cannot be read',
    address: '?chord=Cmaj7zz&frets=99',
    then: openLimits,
  },
  { what: 'nothing found', address: '?chord=C&frets=0&grip=3,4,5' },
  { what: 'every colour of tone', address: '?chord=E13b9&sizes=3-6&match=rootless' },
  { what: 'the double neck', address: '?setup=double&chord=C6', then: openLimits },
  { what: 'a setup without pedals', address: '?setup=lap6-c6&chord=G%23m&grip=2,3,4' },
  { what: 'the atlas', address: '?view=atlas', then: atlasDrawn },
  {
    what: 'the atlas on a phone in the dark, as degrees',
    address: '?view=atlas&key=C&cells=degrees',
    phone: true,
    dark: true,
    then: atlasDrawn,
  },
];

async function atlasDrawn(gripwright: Gripwright): Promise<void> {
  await expect(gripwright.page.getByRole('gridcell').first()).toBeVisible({ timeout: 30_000 });
}

async function openLimits(gripwright: Gripwright): Promise<void> {
  await gripwright.limits.click();
  await expect(gripwright.limit('Frets')).toBeVisible();
}

async function openSound(gripwright: Gripwright, page: Page): Promise<void> {
  await gripwright.play.click();
  await expect(page.getByRole('button', { name: 'Understood' })).toBeVisible();
  await page.getByRole('region', { name: 'Sound' }).locator('summary').click();
  await expect(page.getByRole('combobox', { name: 'Voice' })).toBeVisible();
}

for (const { what, address, dark, phone, then } of PLACES)
  test(`axe has no objection to ${what}`, async ({ page, gripwright }) => {
    if (phone) await page.setViewportSize({ width: 360, height: 740 });
    // colours are judged at rest
    await page.emulateMedia({
      colorScheme: dark ? 'dark' : 'light',
      reducedMotion: 'reduce',
    });
    await gripwright.open(address);
    await then?.(gripwright, page);
    await expectNoObjection(page);
  });

const COMPARISONS: readonly Omit<Place, 'then'>[] = [
  { what: 'a comparison' },
  {
    what: 'a comparison in the dark, of one chord type',
    dark: true,
    address: '?type=m7&list=easierB',
  },
  { what: 'a comparison on a phone', phone: true, address: '?with=double&by=least' },
  { what: 'a comparison that cannot be read', address: '?key=H&repertoire=zz:1' },
  { what: 'a comparison with itself', address: '?with=e9' },
];

for (const { what, address = '', dark, phone } of COMPARISONS)
  test(`axe has no objection to ${what}`, async ({ page }) => {
    if (phone) await page.setViewportSize({ width: 360, height: 740 });
    await page.emulateMedia({ colorScheme: dark ? 'dark' : 'light', reducedMotion: 'reduce' });
    await page.goto(`compare/${address}`);
    await expect(page.getByRole('table')).toBeVisible({ timeout: 20_000 });
    await page.getByText(/^Repertoire: /).click();
    await expectNoObjection(page);
  });

interface BenchPlace extends Omit<Place, 'then'> {
  readonly then?: (bench: BenchPage, page: Page) => Promise<void>;
}

const BENCH: readonly BenchPlace[] = [
  {
    what: 'the bench, everything open',
    then: async (_, page) => {
      for (const summary of await page.locator('main summary').all()) await summary.click();
    },
  },
  {
    what: 'the bench in the dark, a cell that cannot be and an edit told of',
    dark: true,
    then: async (bench) => {
      await bench.type(bench.cell('B', 4), '+1');
      await bench.type(bench.cell('A', 5), '+9');
      await bench.cell('A', 5).focus();
    },
  },
  {
    what: 'the bench on a phone, a cell being written',
    phone: true,
    address: '?setup=double&neck=2',
    then: async (bench, page) => {
      await bench.cell('P5', 1).focus();
      await page.keyboard.press('F2');
    },
  },
];

for (const { what, address = '', dark, phone, then } of BENCH)
  test(`axe has no objection to ${what}`, async ({ page }) => {
    if (phone) await page.setViewportSize({ width: 360, height: 740 });
    await page.emulateMedia({ colorScheme: dark ? 'dark' : 'light', reducedMotion: 'reduce' });
    const bench = new BenchPage(page);
    await bench.open(address);
    await then?.(bench, page);
    await expectNoObjection(page);
  });

for (const dark of [false, true])
  test(`axe has no objection to the bench sheet${dark ? ' in the dark' : ''}`, async ({ page }) => {
    await page.emulateMedia({ colorScheme: dark ? 'dark' : 'light' });
    await page.goto('sheet/?setup=double');
    await expect(page.locator('main svg').first()).toBeVisible();
    await expectNoObjection(page);
  });

for (const { what, path, dark, phone, fold } of [
  { what: 'a progression', path: '', dark: false, phone: false, fold: true },
  { what: 'a progression on a phone in the dark', path: '', dark: true, phone: true, fold: false },
  {
    what: 'a progression with faults',
    path: `?chords=${encodeURIComponent('G | Hx | C:E9')}&frets=low`,
    dark: false,
    phone: false,
    fold: true,
  },
  { what: 'the progressions that are kept', path: 'kept/', dark: false, phone: true, fold: false },
])
  test(`axe has no objection to ${what}`, async ({ page }) => {
    if (phone) await page.setViewportSize({ width: 360, height: 740 });
    await page.emulateMedia({ colorScheme: dark ? 'dark' : 'light', reducedMotion: 'reduce' });
    await page.goto(`progression/${path}`);
    await page.waitForTimeout(1500);
    if (fold) await page.getByText(/^Wishes/).click();
    await expectNoObjection(page);
  });

for (const [what, path] of [
  ['strings and rigging', 'bench/strings/'],
  ['tuning', 'bench/tuning/'],
] as const)
  for (const phone of [false, true])
    test(`axe has no objection to ${what}${phone ? ' on a phone in the dark' : ''}`, async ({
      page,
    }) => {
      if (phone) await page.setViewportSize({ width: 360, height: 740 });
      await page.emulateMedia({ colorScheme: phone ? 'dark' : 'light', reducedMotion: 'reduce' });
      await page.goto(path);
      await page.waitForTimeout(2500);
      await expectNoObjection(page);
    });
