/** What axe says of a page, by the rules of WCAG 2.2 AA and good practice. */
import AxeBuilder from '@axe-core/playwright';
import { expect, type Page } from '@playwright/test';

const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/** Rows of one list or table are made by one component: the first ones stand for all of them. */
const ALIKE = ['ol[aria-label^="Voicings"] > li:nth-child(n + 13)', 'tbody > tr:nth-child(n + 13)'];

/** Asks for all style sheets once more, a quarter of the time, and says the same of every state of a place. */
const OF_SHEETS = 'css-orientation-lock';
const sheetsRead = new Set<string>();

/** The test goes on, so that what is wrong with a later state is told too. */
export async function expectNoObjection(page: Page, what = 'the page'): Promise<void> {
  const place = new URL(page.url()).pathname;
  const preload = !sheetsRead.has(place);
  sheetsRead.add(place);
  const axe = new AxeBuilder({ page })
    // the page has no frames, and what passed is not asked for: both would double the time
    .setLegacyMode(true)
    .options({ resultTypes: ['violations'], preload })
    .withTags(RULES);
  if (!preload) axe.disableRules(OF_SHEETS);
  for (const alike of ALIKE) axe.exclude(alike);
  const { violations } = await axe.analyze();
  const told = violations.map(({ id, help, nodes }) => ({
    id,
    help,
    at: nodes.slice(0, 3).map(({ html, failureSummary }) => `${html} ${failureSummary ?? ''}`),
  }));
  expect.soft(told, what).toEqual([]);
}
