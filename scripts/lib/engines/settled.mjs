/**
 * Waits until nothing is at work: no part says that it is busy, no sentence ends in three dots, fonts are there.
 *
 * @param {import('./webdriver.mjs').Page} page
 */
export async function settled(page) {
  for (let turn = 0; turn < 2; turn += 1) {
    await page.wait(
      'rest: something is still at work',
      `await document.fonts.ready;
       const busy = document.querySelector('main [aria-busy="true"]') !== null;
       const said = [...document.querySelectorAll('[role="status"]')].map((each) => each.textContent.trim());
       return document.querySelector('main') !== null && !busy && said.every((text) => !text.endsWith('…'));`,
    );
    // what it works on may begin only when the page has come to rest once
    await new Promise((done) => setTimeout(done, 250));
  }
}
