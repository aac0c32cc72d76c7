// What a player does with pieces, cards and paper, and all of it with the network cut.
import { PLACES } from '../places.mjs';
import { ask, heard, onPaper, silence } from './doing.mjs';
import { settled } from './settled.mjs';

/** @type {readonly import('./steps.mjs').Step[]} */
export const OF_PIECES = [
  {
    name: 'Arrange: chords are typed, another voicing taken, heard, kept, there after a reload',
    walk: async (given) => {
      const { page, site } = given;
      await page.open(`${site.address}arrange/`);
      await settled(page);
      await page.fill(/^Title$/u, 'Porch light');
      await page.fill(/^Chords/u, 'G | C | G');
      await page.keys('Tab');
      await page.wait(
        'staff with the tablature under it',
        `const staff = document.querySelector('svg[aria-label^="Staff and tablature, measures 1 to"]');
         return staff !== null && staff.getBoundingClientRect().height > 50 && staff.querySelector('path, text') !== null;`,
      );
      await page.wait(
        'three chords',
        'return document.querySelectorAll("ol > li[data-place]").length === 3;',
      );
      await page.press('button', /^Another voicing for measure 1, G$/u);
      await settled(page);
      await silence(given);
      await page.press('button', /^Play$/u);
      await heard(given);
      await page.press('button', /^Stop$/u);
      await page.press('button', /^Keep on this device$/u);
      await page.wait(
        'address of what is kept',
        "return location.search.includes('progression=kept-');",
      );
      await page.reload();
      await page.wait(
        'title',
        'return document.querySelector("main input")?.value === "Porch light";',
      );
      await page.open(`${site.address}arrange/kept/`);
      await page.text(/Porch light/u, 'main');
    },
  },
  {
    name: 'Arrange: with a band',
    walk: async (given) => {
      const { page, site } = given;
      await page.open(
        `${site.address}arrange/?chords=${encodeURIComponent('tempo: 160\nG | C | G')}`,
      );
      await settled(page);
      await page.press('button', /^Band$/u);
      await page.choose(/^Feel/u, /^(?!none|no )/iu);
      await page.keys('Escape');
      await silence(given);
      await page.press('button', /^Play$/u);
      await heard(given);
      await page.press('button', /^Stop$/u);
    },
  },
  {
    name: 'Practice: a card is answered on the neck, and kept',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}practice/`);
      await settled(page);
      await page.press('button', /^Begin the first round$/u);
      await page.text(/Find G with B on top, between fret 1 and fret 5\./u, 'h2, h3');
      await page.run('document.querySelector("main [role=slider]").focus();');
      await page.keys('ArrowRight', 'ArrowRight');
      // at fret 3 strings 3, 4 and 5 sound B, G and D
      for (const string of [3, 4, 5])
        await page.press('button', new RegExp(`^String ${string},`, 'u'));
      await page.press('button', /^Check$/u);
      await page.text(/Right\./u, 'main');
      await page.press('button', /^End$/u);
      await page.text(/\b1 of them right/u, 'figure');
      await page.reload();
      await page.text(/\b1 of them right/u, 'figure');
    },
  },
];

/** @type {readonly import('./steps.mjs').Step[]} */
export const OF_PAPER = [
  {
    name: 'Open: what is not there is said, and leads home',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}open/`);
      await page.text(/This link carries nothing/u, '[role="alert"]');
      await page.press('link', /^Explore$/u);
      await page.text(/voicings in/u, 'h2');
    },
  },
  {
    name: 'Sheet and Book: printed, and on paper alone what belongs there',
    walk: async ({ page, site, print, show }) => {
      for (const place of ['sheet/?setup=e9', 'book/?setup=lap6-c6&paper=A4&parts=first']) {
        await page.open(site.address + place);
        await page.wait('a sheet', 'return document.querySelector("main svg text");');
        await settled(page);
        await page.run("sessionStorage.removeItem('check-printed');");
        await page.press('button', /^Print$/u);
        await page.wait(
          'call of the print dialog',
          "return sessionStorage.getItem('check-printed');",
        );
        const paper = await print?.();
        if (paper !== undefined && paper.toString('latin1', 0, 5) !== '%PDF-')
          throw new Error('no PDF');
        const [sheets, others] = await onPaper(page);
        await show(`paper-${place.slice(0, 4)}`);
        if (!(sheets > 0)) throw new Error('no sheet on paper');
        if (others.length > 0) throw new Error(`on paper too: ${others.join(', ')}`);
      }
    },
  },
];

/** @type {readonly import('./steps.mjs').Step[]} */
export const WITHOUT_NETWORK = [
  {
    name: 'Without a network: it starts, answers, plays, has every place, and keeps',
    walk: async (given) => {
      const { page, site } = given;
      await page.open(site.address);
      await page.wait(
        'whole program on the device',
        `const registration = await navigator.serviceWorker.getRegistration();
         return registration?.active?.state === 'activated';`,
      );
      await page.reload();
      await site.cut();
      await page.open(`${site.address}?chord=Am7`);
      await settled(page);
      await ask(page, 'G');
      await page.text(/^G [\d,]+ voicings in/u, 'h2');
      await page.get('button', /^Fret 3, nothing engaged/u);
      await settled(page);
      await silence(given);
      await page.press('button', /^Play$/u);
      await heard(given);
      for (const place of PLACES) {
        await page.open(site.address + place);
        await page.wait(`heading in ${place}`, 'return document.querySelector("main h1, h1");');
        await settled(page);
      }
      await page.open(`${site.address}bench/setups/`);
      await page.choose(/^Setup that comes with the program/u, /^Square neck/u);
      await page.press('button', /^Keep a copy$/u);
      await page.text(/Square neck, open G/u, 'h3');
      await page.reload();
      await page.text(/Square neck, open G/u, 'h3');
      // what is kept of each page names the listener, which is no part of the program
      await page.run("sessionStorage.removeItem('check-wrong');");
    },
  },
];
