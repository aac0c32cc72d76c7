// Pictures of every place of a built site, laid together to one sheet a place, to be looked at side by side.
import { chromium } from '@playwright/test';
import { findChromium } from './chromium.mjs';
import { serveOnFreePort } from './serve.mjs';

/** A phone, a larger one, a phone lying, a tablet, a laptop: width and height in CSS pixels. */
const SIZES = /** @type {const} */ ([
  [360, 780],
  [390, 844],
  [780, 360],
  [820, 1100],
  [1440, 900],
]);
const LOOKS = /** @type {const} */ (['light', 'dark']);

/** Places by name; where a site has none of that address, as one built earlier, the next is tried. */
const PLACES = /** @type {const} */ ([
  ['explore', '?chord=C'],
  ['atlas', '?view=atlas'],
  ['change', 'change/?with=RKV:5%2B1&station=RKV'],
  ['compare', 'compare/'],
  ['practice', 'practice/'],
  ['arrange', 'arrange/', 'progression/'],
  ['arrange-kept', 'arrange/kept/', 'progression/kept/'],
  ['bench', 'bench/'],
  ['bench-read', 'bench/read/'],
  ['bench-setups', 'bench/setups/'],
  ['bench-strings', 'bench/strings/'],
  ['bench-rig', 'bench/rig/'],
  ['bench-tuning', 'bench/tuning/'],
  ['sheet', 'sheet/?setup=e9'],
  ['book', 'book/?setup=e9'],
  ['open', 'open/'],
]);

/** How wide a picture of 1440 pixels is on the sheet; the others in the same measure. */
const SHARE = 0.5;
/** The most that a sheet weighs, in bytes. */
const MOST_BYTES = 250_000;
/** What the worker works on is shown before this; pictures are taken of it. */
const SETTLED_MS = 20_000;

/**
 * Takes the pictures of a built site. Places that it has not got are left out.
 *
 * @param {string} site the folder
 * @param {{
 *   only: string[] | undefined,
 *   onpicture: (name: string, png: Buffer) => void,
 *   onsheet: (name: string, webp: Buffer) => void,
 * }} how which places, all where nothing is said, and what takes each picture and each sheet
 */
export async function photograph(site, { only, onpicture, onsheet }) {
  const { server, port } = await serveOnFreePort(site, 4360);
  const browser = await chromium.launch({
    executablePath: await findChromium(),
    args: ['--no-sandbox', '--font-render-hinting=none'],
  });
  try {
    for (const [name, ...addresses] of PLACES) {
      if (only !== undefined && !only.includes(name)) continue;
      /** @type {Buffer[]} */
      const pictures = [];
      for (const look of LOOKS) {
        const context = await browser.newContext({
          serviceWorkers: 'block',
          colorScheme: look,
          reducedMotion: 'reduce',
        });
        const page = await context.newPage();
        if (await opened(page, `http://127.0.0.1:${port}/`, addresses))
          for (const [width, height] of SIZES) {
            await page.setViewportSize({ width, height });
            // what it works on may be begun only when the page has come to rest once
            await settled(page);
            await settled(page);
            pictures.push(await page.screenshot());
            onpicture(`${name}-${width}-${look}`, /** @type {Buffer} */ (pictures.at(-1)));
          }
        await context.close();
      }
      if (pictures.length > 0) onsheet(name, await sheetOf(browser, pictures));
    }
  } finally {
    await browser.close();
    server.close();
    server.closeAllConnections();
  }
}

/**
 * Whether one of the addresses could be opened.
 *
 * @param {import('@playwright/test').Page} page
 * @param {string} home
 * @param {readonly string[]} addresses
 */
async function opened(page, home, addresses) {
  for (const address of addresses) {
    const response = await page.goto(home + address, { waitUntil: 'load' });
    if (response?.ok()) return true;
  }
  return false;
}

/**
 * Waits until nothing is at work: no part says that it is busy, and the page stays as it is for a while.
 *
 * @param {import('@playwright/test').Page} page
 */
async function settled(page) {
  await page.evaluate(() => document.fonts.ready);
  await page
    .waitForFunction(
      () =>
        document.querySelector('[aria-busy="true"]') === null &&
        // what is at work says so, with three dots at its end
        [...document.querySelectorAll('[role="status"]')].every(
          ({ textContent }) => !textContent?.trim().endsWith('…'),
        ),
      undefined,
      {
        timeout: SETTLED_MS,
      },
    )
    .catch(() => undefined);
  await page.evaluate(
    () =>
      new Promise((done) => {
        const finish = () => {
          observer.disconnect();
          clearTimeout(most);
          done(undefined);
        };
        let quiet = setTimeout(finish, 400);
        const most = setTimeout(finish, 8000);
        const observer = new MutationObserver(() => {
          clearTimeout(quiet);
          quiet = setTimeout(finish, 400);
        });
        observer.observe(document, { subtree: true, childList: true, attributes: true });
      }),
  );
}

/**
 * One picture of all, a row a look, small enough to be kept.
 *
 * @param {import('@playwright/test').Browser} browser
 * @param {readonly Buffer[]} pictures those of the first look, then those of the second
 */
async function sheetOf(browser, pictures) {
  const page = await browser.newPage();
  const coded = await page.evaluate(
    async ({ sources, perRow, share, most }) => {
      const images = await Promise.all(
        sources.map(async (source) => {
          const image = new Image();
          image.src = `data:image/png;base64,${source}`;
          await image.decode();
          return image;
        }),
      );
      const GAP = 12;
      const rows = images.flatMap((_, at) =>
        at % perRow === 0 ? [images.slice(at, at + perRow)] : [],
      );
      const height = (/** @type {readonly HTMLImageElement[]} */ row) =>
        Math.max(...row.map((image) => image.height * share)) + GAP;
      const canvas = document.createElement('canvas');
      canvas.width = Math.max(
        ...rows.map((row) => row.reduce((sum, image) => sum + image.width * share + GAP, GAP)),
      );
      canvas.height = rows.reduce((sum, row) => sum + height(row), GAP);
      const context = canvas.getContext('2d');
      if (context === null) throw new Error('no canvas');
      context.fillStyle = '#888888';
      context.fillRect(0, 0, canvas.width, canvas.height);
      context.imageSmoothingQuality = 'high';
      let y = GAP;
      for (const row of rows) {
        let x = GAP;
        for (const image of row) {
          context.drawImage(image, x, y, image.width * share, image.height * share);
          x += image.width * share + GAP;
        }
        y += height(row);
      }
      for (const quality of [0.8, 0.65, 0.5, 0.35, 0.2]) {
        const url = canvas.toDataURL('image/webp', quality);
        const base64 = url.slice(url.indexOf(',') + 1);
        if ((base64.length * 3) / 4 <= most || quality === 0.2) return base64;
      }
      throw new Error('no quality is left');
    },
    {
      sources: pictures.map((picture) => picture.toString('base64')),
      perRow: SIZES.length,
      share: SHARE,
      most: MOST_BYTES,
    },
  );
  await page.close();
  return Buffer.from(coded, 'base64');
}
