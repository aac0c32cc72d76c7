// What several steps do or wait for.
import { settled } from './settled.mjs';

/** A string comes to a quarter of what a sound card takes; what rests gives nothing. */
const HEARD = 0.02;
/** Half of the program comes with the first sound, and a busy machine takes its time for it. */
const SOON_MS = 30_000;

/** @typedef {import('./steps.mjs').Given} Given */
/** @typedef {import('./webdriver.mjs').Page} Page */

/** Types a chord and finishes the question. @param {Page} page @param {string} chord */
export async function ask(page, chord) {
  await page.fill(/^Chord$/u, chord);
  await page.keys('Enter');
}

/** Waits until nothing sounds. @param {Given} given */
export async function silence({ sound }) {
  if (sound === undefined) return;
  const end = Date.now() + SOON_MS;
  do {
    sound.loudest();
    await new Promise((done) => setTimeout(done, 300));
    if (Date.now() > end) throw new Error('it does not come to rest');
  } while (sound.loudest() > HEARD);
}

/** Waits until something sounds, where there is a sound card. @param {Given} given */
export async function heard({ sound }) {
  if (sound === undefined) return;
  const end = Date.now() + SOON_MS;
  while (sound.loudest() < HEARD) {
    if (Date.now() > end) throw new Error('nothing is heard');
    await new Promise((done) => setTimeout(done, 50));
  }
}

/**
 * Has the page look as on paper, where the driver cannot print: how many sheets are seen then, and which buttons and
 * fields.
 *
 * @param {Page} page
 */
export async function onPaper(page) {
  await page.run(`
    const turn = (rules) => {
      for (const rule of rules) {
        if (rule instanceof CSSMediaRule) {
          if (/\\bprint\\b/u.test(rule.media.mediaText)) rule.media.mediaText = 'all';
          else if (/\\bscreen\\b/u.test(rule.media.mediaText)) rule.media.mediaText = 'not all';
        }
        if (rule.cssRules) turn(rule.cssRules);
      }
    };
    for (const sheet of document.styleSheets) turn(sheet.cssRules);`);
  // WebKit goes by changed rules only when it draws again
  await settled(page);
  return page.run(`
    const seen = (each) => each.getClientRects().length > 0 && getComputedStyle(each).visibility !== 'hidden';
    const sheets = [...document.querySelectorAll('.paper:has(svg)')].filter(seen).length;
    const others = [...document.querySelectorAll('button, select, input, nav')].filter(seen);
    return [sheets, others.map((each) => each.tagName + ' ' + each.textContent.trim().slice(0, 30))];`);
}
