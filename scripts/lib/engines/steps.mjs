// What a player does, step by step, as it is to go in every engine.
import { OF_EXPLORE, OF_SETUPS } from './instrument.mjs';
import { OF_PAPER, OF_PIECES, WITHOUT_NETWORK } from './pieces.mjs';
import { STANDING } from './standing.mjs';
import { OF_CHANGES } from './weighing.mjs';
import { Unanswered } from './webdriver.mjs';

/**
 * What a step is given.
 *
 * @typedef {object} Given
 * @property {import('./webdriver.mjs').Page} page
 * @property {(() => Promise<Buffer>) | undefined} print the page as PDF, where the engine's driver has it
 * @property {import('./site.mjs').Site} site
 * @property {{ loudest: () => number } | undefined} sound what is heard, where there is a sound card
 * @property {(what: string) => Promise<void>} show takes a picture, where pictures are asked for
 *
 * @typedef {{ name: string, walk: (given: Given) => Promise<void> }} Step
 */

/** @type {readonly Step[]} */
export const STEPS = [
  ...STANDING,
  ...OF_EXPLORE,
  ...OF_SETUPS,
  ...OF_CHANGES,
  ...OF_PIECES,
  ...OF_PAPER,
  ...WITHOUT_NETWORK,
].map(({ name, walk }) => ({
  name,
  walk: async (given) => {
    // as wide as a desk has it; no step leans on what the one before left
    await given.page.resize(1440, 900);
    try {
      await walk(given);
    } catch (error) {
      if (error instanceof Unanswered) throw error;
      const wrong = await trouble(given.page);
      const more = wrong.length > 0 ? `; the page says: ${wrong.join('; ')}` : '';
      throw new Error(`${error instanceof Error ? error.message : String(error)}${more}`, {
        cause: error,
      });
    }
    // told with the step in which it happened
    const wrong = await trouble(given.page);
    if (wrong.length > 0) throw new Error(`the page says: ${wrong.join('; ')}`);
  },
}));

/**
 * What went wrong in the page since this was asked before.
 *
 * @param {import('./webdriver.mjs').Page} page
 * @returns {Promise<string[]>}
 */
async function trouble(page) {
  const kept = await page.run(
    `const kept = sessionStorage.getItem('check-wrong');
     sessionStorage.removeItem('check-wrong');
     return JSON.parse(kept ?? '[]');`,
  );
  return kept;
}
