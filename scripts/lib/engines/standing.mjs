// Every place, at a desk and on a phone: it stands, fits, and has nothing to object.
import { PLACES } from '../places.mjs';
import { settled } from './settled.mjs';

const SIZES = /** @type {const} */ ([
  [1440, 900],
  [360, 780],
]);

/** @type {readonly import('./steps.mjs').Step[]} */
export const STANDING = PLACES.map((place) => ({
  name: `Place ${place === '' ? '(Explore)' : place}`,
  walk: async ({ page, site, show }) => {
    const [[wide, high], narrow] = SIZES;
    await page.resize(wide, high);
    await page.open(site.address + place);
    for (const [width, height] of [[wide, high], narrow]) {
      await page.resize(width, height);
      await settled(page);
      const [heads, navigations, needed, given, font] = await page.run(`return [
        document.querySelectorAll('h1').length,
        document.querySelectorAll('nav').length,
        document.documentElement.scrollWidth,
        document.documentElement.clientWidth,
        document.fonts.check('16px "Atkinson Hyperlegible Next Variable"'),
      ];`);
      await show(
        `${place.replaceAll(/\W+/gu, '-').replaceAll(/^-|-$/gu, '') || 'explore'}-${width}`,
      );
      if (heads !== 1) throw new Error(`${heads} headings of the first level at ${width} pixels`);
      if (navigations === 0) throw new Error('no way to the other places');
      if (needed > given) throw new Error(`${needed} pixels needed of ${given}`);
      if (!font) throw new Error('the font of the program is not there');
    }
    await page.resize(wide, high);
  },
}));
