// What a player does with chords and with an instrument: search, press, hear, write, keep.
// Where chords lie on E9 is common practice: G at fret 3 with nothing pressed, C there with A and B.
import { ask, heard, silence } from './doing.mjs';
import { settled } from './settled.mjs';

/** @type {readonly import('./steps.mjs').Step[]} */
export const OF_EXPLORE = [
  {
    name: 'Explore: a chord is typed, its rows walked, pedals pressed',
    walk: async ({ page, site }) => {
      await page.open(site.address);
      await settled(page);
      await ask(page, 'G');
      await page.text(/^G [\d,]+ voicings in/u, 'h2');
      await page.press('button', /^Fret 3, nothing engaged/u);
      await page.press('button', /^Pedal A, P1/u);
      await page.press('button', /^Pedal B, P2/u);
      await page.text(/C major/u, '[aria-label="Neck"]');
      await page.press('button', /^Fret 3, nothing engaged/u);
      await page.keys('ArrowDown');
      await page.wait('bar at fret 10', 'return document.querySelector(\'[aria-valuenow="10"]\');');
    },
  },
  {
    name: 'Explore: a chord is heard, bent, and stopped',
    walk: async (given) => {
      const { page, site } = given;
      await page.open(`${site.address}?chord=G`);
      await page.get('button', /^Fret 3, nothing engaged/u);
      await settled(page);
      await silence(given);
      await page.press('button', /^Play$/u);
      await heard(given);
      await page.press('button', /^Pedal A, P1/u);
      await page.press('button', /^Stop$/u);
      await page.get('button', /^Play$/u);
      await silence(given);
    },
  },
  {
    name: 'Explore: the atlas, the scale, what leads on, and the way Back',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}?chord=G`);
      await settled(page);
      await page.press('button', /^Atlas$/u);
      await page.get('gridcell', /G major/u);
      await page.press('button', /^Scale$/u);
      await page.get('button', /^Pockets$/u);
      await page.press('button', /^Rows$/u);
      await page.press('button', /^From here/u);
      await page.get('button', /^(Hear|Play)/u);
      await ask(page, 'Am7');
      await page.text(/^Am7 [\d,]+ voicings in/u, 'h2');
      await page.run('history.back();');
      await page.text(/^G [\d,]+ voicings in/u, 'h2');
    },
  },
  {
    name: 'Explore: a microphone that is refused is told in a sentence; one that is there listens',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}?chord=G`);
      await settled(page);
      await page.run(`
        const devices = navigator.mediaDevices;
        window.allowed = devices.getUserMedia.bind(devices);
        devices.getUserMedia = () => Promise.reject(new DOMException('denied', 'NotAllowedError'));`);
      await page.press('button', /^Microphone/u);
      await page.press('button', /^Listen$/u);
      await page.text(/was not allowed to use the microphone/u, 'main [role="alert"]');
      await page.run('navigator.mediaDevices.getUserMedia = window.allowed;');
      await page.press('button', /^Listen$/u);
      await page.get('button', /^Stop listening$|^Stop$/u);
      await page.press('button', /^Stop/u);
      await page.get('button', /^Listen$/u);
    },
  },
];

/** @type {readonly import('./steps.mjs').Step[]} */
export const OF_SETUPS = [
  {
    name: 'Bench: a pull is written with the keys, kept, there after a reload, and undone',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}bench/?setup=e9`);
      await settled(page);
      await page.press('gridcell', /^A on string 1: no pull/u);
      await page.keys('+', '1', 'Enter');
      await page.get('gridcell', /^A on string 1: raised 1 semitone to G 4/u);
      await page.wait('address of the copy', "return location.search.includes('setup=kept-');");
      await page.reload();
      await page.get('gridcell', /^A on string 1: raised 1 semitone to G 4/u);
      await page.press('button', /^Undo$/u);
      await page.get('gridcell', /^A on string 1: no pull/u);
    },
  },
  {
    name: 'Setups: what is kept is listed, and a copy of another one is kept',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}bench/setups/`);
      await settled(page);
      await page.choose(/^Setup that comes with the program/u, /^C6, five pedals/u);
      await page.press('button', /^Keep a copy$/u);
      await page.text(/C6, five pedals and three levers/u, 'h3');
      await page.reload();
      await page.text(/C6, five pedals and three levers/u, 'h3');
      await page.text(/E9, three pedals and five levers/u, 'h3');
    },
  },
  {
    name: 'Read a chart: a pasted text becomes a setup',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}bench/read/`);
      await settled(page);
      await page.press('button', /^Try an example$/u);
      await page.press('button', /^(Keep|Use)/u);
      await page.wait('address of the copy', "return location.search.includes('setup=');");
    },
  },
  {
    name: 'Change: a pull on a free station is weighed, and there after a reload',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}change/?station=RKV`);
      await settled(page);
      await page.press('button', /^Raise string 1\b/u);
      await settled(page);
      const SUM = /[\d,]+ easier, [1-9][\d,]* new, [\d,]+ lost/u;
      const [sum] = await page.text(SUM, '.sum[aria-busy="false"]');
      await page.reload();
      await page.text(new RegExp(sum, 'u'), '.sum');
    },
  },
  {
    name: 'Compare: another setup is chosen',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}compare/`);
      await settled(page);
      await page.choose(/^Second setup$/u, /^C6/u);
      await page.text(/E9: [\d,]+.*C6: [\d,]+/u, 'tr');
    },
  },
  {
    name: 'Strings: another gauge is taken, and Rig and Tuning follow the setup',
    walk: async ({ page, site }) => {
      await page.open(`${site.address}bench/strings/?setup=e9`);
      await settled(page);
      await page.press('button', /^\.012 for string 3$/u);
      await page.wait('address of the copy', "return location.search.includes('setup=kept-');");
      await page.reload();
      await page.get('button', /^\.012 for string 3, as it is$/u);
      const query = await page.run('return location.search;');
      await page.open(`${site.address}bench/rig/${query}`);
      await page.text(/rod/u, 'table');
      await page.open(`${site.address}bench/tuning/${query}`);
      await page.choose(/^Method/u, /^Just/u);
      await page.get('button', /^Hear String 3, open$/u);
    },
  },
  {
    name: 'Tuning: a target is heard, and the tuner listens to the microphone',
    walk: async (given) => {
      const { page, site } = given;
      await page.open(`${site.address}bench/tuning/?setup=e9`);
      await settled(page);
      await silence(given);
      await page.press('button', /^Hear String 5, open$/u);
      await heard(given);
      await page.press('button', /^Listen$/u);
      await page.press('button', /^Stop/u);
    },
  },
];
