// Measures the built page in Chromium: how long from a typed chord to the repainted page.
import { chromium } from '@playwright/test';
import { serveOnFreePort } from './serve.mjs';

const CHORDS = ['Am7', 'F', 'G7', 'C#m7', 'Bb6', 'F#m7b5', 'Dmaj9', 'E7#9', 'Ab', 'Gsus4', 'G13'];
const ROUNDS = 4;

/**
 * Milliseconds from the input event to the second frame after the heading names the chord, each
 * chord several times, ascending.
 *
 * @param {string} buildDir
 * @param {string} executablePath
 * @param {string} [address] what follows the question mark
 * @returns {Promise<number[]>}
 */
export async function typedToPainted(buildDir, executablePath, address = '') {
  const { server, port } = await serveOnFreePort(buildDir, 4350);
  const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
  try {
    const page = await browser.newPage();
    await page.goto(`http://127.0.0.1:${port}/?${address}`);
    await page.waitForSelector('[data-row]');
    const took = [];
    for (let round = 0; round < ROUNDS; round++)
      for (const chord of CHORDS) {
        // a page at rest, as a player leaves it between two chords
        await page.waitForTimeout(300);
        took.push(await page.evaluate(typeChord, chord));
      }
    return took.sort((a, b) => a - b);
  } finally {
    await browser.close();
    server.close();
    server.closeAllConnections();
  }
}

/** Runs in the page. @param {string} chord @returns {Promise<number>} */
function typeChord(chord) {
  const field = document.querySelector('input');
  const heading = () => document.querySelector('h2')?.textContent ?? '';
  const before = heading();
  const begun = performance.now();
  if (field) field.value = chord;
  field?.dispatchEvent(new Event('input', { bubbles: true }));
  return new Promise((done) => {
    const look = () => {
      if (heading() === before) requestAnimationFrame(look);
      // the frame that shows the change begins now; the one after it proves that it was painted
      else requestAnimationFrame(() => done(performance.now() - begun));
    };
    requestAnimationFrame(look);
  });
}

/**
 * Milliseconds between frames while the atlas is scrolled from its top to its end and back, ascending.
 *
 * @param {string} buildDir
 * @param {string} executablePath
 * @param {string} [address] what follows the question mark
 * @returns {Promise<number[]>}
 */
export async function atlasFrames(buildDir, executablePath, address = '') {
  const { server, port } = await serveOnFreePort(buildDir, 4350);
  const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await page.goto(`http://127.0.0.1:${port}/?view=atlas&${address}`);
    await page.waitForSelector('[role="gridcell"]');
    await page.waitForTimeout(500);
    return (await page.evaluate(scrollAtlas)).sort((a, b) => a - b);
  } finally {
    await browser.close();
    server.close();
    server.closeAllConnections();
  }
}

/** Runs in the page: a row and a half a frame, as a fast swipe. @returns {Promise<number[]>} */
function scrollAtlas() {
  const sheet = document.querySelector('[role="grid"]')?.parentElement;
  if (!sheet) throw new Error('There is no atlas on the page.');
  /** @type {number[]} */
  const took = [];
  let step = 66;
  let turns = 0;
  let before = performance.now();
  return new Promise((done) => {
    const frame = (/** @type {number} */ now) => {
      took.push(now - before);
      before = now;
      const from = sheet.scrollTop;
      sheet.scrollTop += step;
      if (sheet.scrollTop === from) {
        step = -step;
        if (++turns === 3) return done(took.slice(1));
      }
      requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  });
}
