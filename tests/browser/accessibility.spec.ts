/** axe finds nothing to object to, wherever a player may be: each place is walked, state by state. */
import { type Page } from '@playwright/test';
import { expectNoObjection } from './axe';
import { BenchPage } from './benchPage';
import { expect, Gripwright, keptPageTest as test } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 180_000 });

/** One state of a place. */
interface State {
  readonly what: string;
  /** Of the page that is opened for it; without one the state goes on from that before it. */
  readonly address?: string;
  readonly dark?: true;
  /** Nothing but the colours is other than in the state before. */
  readonly recoloured?: true;
  readonly phone?: true;
  /** Brings the place into the state, and waits until it is. */
  readonly then?: (page: Page) => Promise<void>;
}

const USUAL = { width: 1280, height: 720 };
const PHONE = { width: 360, height: 740 };

/** Walks the states of a place; what axe says of each is told, not only of the first. */
function walk(place: string, states: readonly State[]): void {
  test(`axe has no objection to ${place}`, async ({ page }) => {
    for (const { what, address, dark, recoloured, phone, then } of states)
      await test.step(what, async () => {
        await page.setViewportSize(phone ? PHONE : USUAL);
        // colours are judged at rest
        await page.emulateMedia({ colorScheme: dark ? 'dark' : 'light', reducedMotion: 'reduce' });
        if (address !== undefined) await page.goto(address);
        await then?.(page);
        await expectNoObjection(page, what, recoloured ? 'colours' : 'everything');
      });
  });
}

const answered = async (page: Page): Promise<Gripwright> => {
  const gripwright = new Gripwright(page);
  await expect(page.getByText('Searching the neck…')).toBeHidden();
  await gripwright.settle();
  return gripwright;
};

const openLimits = async (page: Page): Promise<void> => {
  const gripwright = await answered(page);
  // they stand open where one of them is at fault
  if (!(await gripwright.limit('Frets').isVisible())) await gripwright.limits.click();
  await expect(gripwright.limit('Frets')).toBeVisible();
};

const openSound = async (page: Page): Promise<void> => {
  const gripwright = await answered(page);
  await gripwright.play.click();
  await expect(page.getByRole('button', { name: 'Understood' })).toBeVisible();
  await gripwright.unfold('Sound');
  await expect(page.getByRole('combobox', { name: 'Voice' })).toBeVisible();
};

const unfoldGrips = async (page: Page): Promise<void> => {
  const gripwright = await answered(page);
  await page
    .getByRole('button', { name: /^\d+ grips here/ })
    .first()
    .click();
  await gripwright.rows.nth(1).focus();
};

const settled = async (page: Page): Promise<void> => void (await answered(page));

walk('Explore', [
  { what: 'the first visit', address: '', then: settled },
  { what: 'the first visit in the dark', dark: true, recoloured: true, then: settled },
  { what: 'a phone', phone: true, then: settled },
  { what: 'a phone in the dark, limits open', phone: true, dark: true, then: openLimits },
  { what: 'the limits', then: openLimits },
  { what: 'the sound, with its caution', address: '', then: openSound },
  {
    what: 'the sound on a phone in the dark',
    address: '',
    phone: true,
    dark: true,
    then: openSound,
  },
]);

walk('Explore, asked for more', [
  { what: 'unfolded grips', address: '', then: unfoldGrips },
  {
    what: 'controls engaged, one at its half-stop',
    address: '?at=3&engaged=A,LKL,RKR:half&strings=3,4,5,6',
    then: settled,
  },
  {
    what: 'a chord and a limit that cannot be read',
    address: '?chord=Cmaj7zz&frets=99',
    then: openLimits,
  },
  { what: 'nothing found', address: '?chord=C&frets=0&grip=3,4,5', then: settled },
  {
    what: 'every colour of tone',
    address: '?chord=E13b9&sizes=3-6&match=rootless',
    then: settled,
  },
  { what: 'the double neck', address: '?setup=double&chord=C6', then: openLimits },
  {
    what: 'a setup without pedals',
    address: '?setup=lap6-c6&chord=G%23m&grip=2,3,4',
    then: settled,
  },
]);

const drawn = async (page: Page): Promise<void> => {
  await expect(page.getByRole('gridcell').first()).toBeVisible({ timeout: 30_000 });
};

walk('the atlas', [
  { what: 'as it opens', address: '?view=atlas', then: drawn },
  {
    what: 'on a phone in the dark, as degrees',
    address: '?view=atlas&key=C&cells=degrees',
    phone: true,
    dark: true,
    then: drawn,
  },
]);

const compared = async (page: Page): Promise<void> => {
  await expect(page.getByRole('table')).toBeVisible({ timeout: 20_000 });
  await page.locator('summary', { hasText: 'Compared' }).click();
  await page.getByText(/^Repertoire: /).click();
};

walk('Compare', [
  { what: 'a comparison', address: 'compare/', then: compared },
  {
    what: 'in the dark, of one chord type',
    dark: true,
    address: 'compare/?type=m7&list=easierB',
    then: compared,
  },
  {
    what: 'on a phone',
    phone: true,
    address: 'compare/?with=double&by=least',
    then: compared,
  },
  {
    what: 'one that cannot be read',
    address: 'compare/?key=H&repertoire=zz:1',
    then: compared,
  },
  { what: 'with itself', address: 'compare/?with=e9', then: compared },
]);

const bench = async (page: Page): Promise<BenchPage> => {
  await expect(page.getByText(/voicings of everyday chords/)).toBeVisible({ timeout: 20_000 });
  return new BenchPage(page);
};

const sheet = async (page: Page): Promise<void> => {
  await expect(page.locator('main svg').first()).toBeVisible();
};

walk('the Bench and its sheet', [
  {
    what: 'everything open',
    address: 'bench/',
    then: async (page) => {
      await bench(page);
      for (const summary of await page.locator('main summary').all()) await summary.click();
    },
  },
  {
    what: 'in the dark, a cell that cannot be and an edit told of',
    address: 'bench/',
    dark: true,
    then: async (page) => {
      const open = await bench(page);
      await open.type(open.cell('B', 4), '+1');
      await open.type(open.cell('A', 5), '+9');
      await open.cell('A', 5).focus();
    },
  },
  {
    what: 'the tools of a head, and the menu of the setup',
    address: 'bench/',
    then: async (page) => {
      await (await bench(page)).head('A').click();
      await page.getByRole('button', { name: 'Setup actions' }).press('Enter');
    },
  },
  {
    what: 'on a phone, a cell being written',
    phone: true,
    address: 'bench/?setup=double&neck=2',
    then: async (page) => {
      await (await bench(page)).cell('P5', 1).focus();
      await page.keyboard.press('F2');
    },
  },
  { what: 'the sheet', address: 'sheet/?setup=double', then: sheet },
  { what: 'the sheet in the dark', dark: true, recoloured: true, then: sheet },
]);

const ways = async (page: Page): Promise<void> => {
  await expect(page.locator('ol > li[data-place]').first()).toBeVisible({ timeout: 20_000 });
  await expect(page.locator('ol[aria-busy="true"]')).toHaveCount(0);
};

walk('Arrange', [
  { what: 'on a phone in the dark', address: 'arrange/', phone: true, dark: true, then: ways },
  {
    what: 'its preferences open',
    then: async (page) => {
      await ways(page);
      await page.locator('summary', { hasText: 'Preferences' }).click();
      // to the end, where the playback lies over nothing
      await page.getByRole('textbox', { name: 'Weighting' }).waitFor();
      await page.evaluate(() => scrollTo(0, document.documentElement.scrollHeight));
    },
  },
  {
    what: 'with faults',
    address: `arrange/?chords=${encodeURIComponent('G | Hx | C:E9')}&frets=low`,
    then: async (page) => {
      await expect(page.getByText(/⚠/).first()).toBeVisible();
      await page.locator('summary', { hasText: 'Preferences' }).click();
    },
  },
  {
    what: 'those that are kept',
    address: 'arrange/kept/',
    phone: true,
    then: async (page) => {
      await expect(page.getByText(/^Nothing is kept here yet\./)).toBeVisible();
    },
  },
]);

const tuned = async (page: Page): Promise<void> => {
  const targets = page.getByRole('table', { name: 'Tuning targets' });
  await expect(targets).toBeVisible({ timeout: 20_000 });
  await expect(page.locator('[aria-busy="true"]')).toHaveCount(0);
};
const born = async (page: Page): Promise<void> => {
  const answer = page.getByRole('region', { name: 'String strength' });
  await expect(answer.getByRole('rowheader').first()).toBeVisible();
};

walk('Strings and Tuning', [
  {
    what: 'strings, on a phone in the dark',
    address: 'bench/strings/',
    phone: true,
    dark: true,
    then: born,
  },
  {
    what: 'strings, everything open',
    then: async (page) => {
      for (const summary of await page.locator('main summary').all()) await summary.click();
    },
  },
  {
    what: 'tuning, on a phone in the dark',
    address: 'bench/tuning/',
    phone: true,
    dark: true,
    then: tuned,
  },
  {
    what: 'tuning, everything open',
    then: async (page) => {
      await tuned(page);
      for (const summary of await page.locator('main summary').all()) await summary.click();
    },
  },
]);
