// What a player asks about pulls and setups: searched for, by songs, on two stations at once, and handed on.
// Six strings in C6 have no C, E and G sharp under a bar, straight or slanted; with the A lowered they have.
import { settled } from './settled.mjs';

const SONGS = [
  { name: 'plain.txt', text: 'C | F | G | C' },
  { name: 'lifted.txt', text: 'C | Caug | Am | C' },
];

/** @type {readonly import('./steps.mjs').Step[]} */
export const OF_CHANGES = [
  {
    name: 'Change: the best pulls are searched for, and one is tried',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}change/?setup=lap6-c6&station=LKL&upto=1`);
      await settled(page);
      await page.press('button', /^Search for the best pulls/u);
      // six strings, each up or down by one to three semitones
      await page.text(/\b36\b/u, '[aria-label="Suggest"] [role="status"]');
      await page.press('button', /^Try /u);
      await page.wait('address of the pull', "return location.search.includes('with=LKL:');");
      await page.text(/[\d,]+ new/u, '.sum[aria-busy="false"]');
    },
  },
  {
    name: 'Change and Compare: by the songs of a player',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}change/?setup=lap6-c6&with=LKL:3-1&station=LKL`);
      await settled(page);
      await page.press('button', /^By my songs/u);
      await page.openFiles(/^Open song files/u, SONGS);
      await page.press('button', /^Measure by these songs$/u);
      await page.text(/1 song can be played now\./u, '[role="status"]');
      await page.press('link', /^Compare$/u);
      await page.press('button', /^By my songs/u);
      // the files of the visit are still there
      await page.press('button', /^Measure by these songs$/u);
      await page.text(/plain.*lifted|lifted.*plain/u, '[aria-label="Song by song"]');
    },
  },
  {
    name: 'Change: two stations at once, searched to the end, there after a reload',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}change/?station=RKV&upto=1&setup=lap6-c6`);
      await settled(page);
      await page.press('button', /^Several stations at once/u);
      await page.choose(/^Second station/u, /^LKV/u);
      await page.press('button', /^Search both$/u);
      const within = '[aria-label="Several stations at once"]';
      await page.text(/looked at, all of them|all of them/u, within);
      await page.reload();
      await page.press('button', /^Several stations at once/u);
      await page.text(/Begun before|all of them/u, within);
      await page.press('button', /^Try .*LKV/u);
      await page.wait('address of both pulls', 'return /with=.*LKV:/u.test(location.search);');
    },
  },
  {
    name: 'A link: looked at, compared, and kept',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}bench/setups/`);
      await settled(page);
      await page.choose(/^Setup that comes with the program/u, /^Eight strings/u);
      await page.press('button', /^Keep a copy$/u);
      await page.click(
        await page.wait(
          'way to share it',
          `return [...document.querySelectorAll('[role="group"][aria-label^="Eight strings"] button')]
             .find(({ textContent }) => textContent.trim() === 'Share');`,
        ),
      );
      const link = await page.wait(
        'link',
        `const field = [...document.querySelectorAll('dialog[open] input, dialog[open] textarea')];
         return field.map(({ value }) => value).find((value) => value.includes('/open/#'));`,
      );
      await page.open(`${site.address}open/`);
      await page.open(link);
      await page.text(/^Eight strings without pedals/u, 'h1');
      await page.press('button', /^Keep it here$/u);
      await page.wait('address of the copy', "return location.search.includes('setup=kept-');");
    },
  },
];
