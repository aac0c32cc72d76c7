// Measures the built page as a device four times slower meets it: start, frames, long tasks, memory.
import { chromium } from '@playwright/test';
import { serveOnFreePort } from './serve.mjs';

export const SLOWER = 4;
/** A task of the main thread that is longer keeps a finger waiting (W3C Long Tasks). */
const LONG_MS = 50;
/** From the beginning of a trace to the work that it is of. */
const BEFORE_WORK_MS = 500;

/**
 * @template T
 * @param {string} buildDir
 * @param {string} executablePath
 * @param {(open: (address: string) => Promise<import('@playwright/test').Page>) => Promise<T>} use
 * @returns {Promise<T>}
 */
async function onSlowDevice(buildDir, executablePath, use) {
  const { server, port } = await serveOnFreePort(buildDir, 4360);
  const browser = await chromium.launch({
    executablePath,
    args: ['--no-sandbox', '--enable-precise-memory-info', '--js-flags=--expose-gc'],
  });
  try {
    return await use(async (address) => {
      // a new context has nothing of an earlier visit
      const context = await browser.newContext({ serviceWorkers: 'block' });
      const page = await context.newPage();
      const session = await context.newCDPSession(page);
      await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
      await page.addInitScript(watchLongTasks);
      await page.addInitScript(noteFirstVoicing);
      await page.goto(`http://127.0.0.1:${port}/${address}`, { waitUntil: 'commit' });
      return page;
    });
  } finally {
    await browser.close();
    server.close();
    server.closeAllConnections();
  }
}

/** Runs in the page, before it. */
function watchLongTasks() {
  /** @type {number[]} */
  const tasks = [];
  Object.assign(globalThis, { tasks });
  new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) tasks.push(duration);
  }).observe({ type: 'longtask' });
}

/** Runs in the page, before it: notes when the frame with the first voicing is drawn. */
function noteFirstVoicing() {
  new MutationObserver((_, observer) => {
    if (document.querySelector('[data-row]') === null) return;
    observer.disconnect();
    requestAnimationFrame(() => Object.assign(globalThis, { voicingAt: performance.now() }));
  }).observe(document, { subtree: true, childList: true });
}

/**
 * Milliseconds of processor time of the longest task that the page's main thread had meanwhile.
 *
 * @param {import('@playwright/test').Page} page @param {() => Promise<void>} work
 */
async function longestOfProcessor(page, work) {
  const browser = page.context().browser();
  if (browser === null) throw new Error('The page has no browser.');
  await browser.startTracing(page, { categories: ['toplevel'] });
  await page.waitForTimeout(BEFORE_WORK_MS);
  await work();
  /** @type {{ traceEvents: { name: string, ph: string, pid: number, tid: number, ts: number, tdur?: number, args?: { name?: string } }[] }} */
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString());
  const threads = traceEvents
    .filter(({ name, args }) => name === 'thread_name' && args?.name === 'CrRendererMain')
    .map(({ pid, tid }) => traceEvents.filter((each) => each.pid === pid && each.tid === tid));
  // of several pages it is the one that was at work
  const busiest = threads.sort((a, b) => b.length - a.length)[0] ?? [];
  const begun = Math.min(...busiest.filter(({ ts }) => ts > 0).map(({ ts }) => ts));
  // what it takes to begin tracing is not the page's; the trace counts microseconds
  const from = begun + (BEFORE_WORK_MS - 100) * 1000;
  return Math.max(
    0,
    ...busiest
      .filter(({ name, ph, ts }) => ph === 'X' && name.endsWith('RunTask') && ts > from)
      .map(({ tdur = 0 }) => tdur / 1000),
  );
}

/** @param {import('@playwright/test').Page} page @returns {Promise<number[]>} */
async function longTasks(page) {
  await page.waitForTimeout(300);
  return page.evaluate(() => /** @type {number[]} */ (Reflect.get(globalThis, 'tasks')).splice(0));
}

/**
 * Milliseconds that the browser needs here, not slowed down, for fifty million sums: what else was
 * measured can be held against another machine's, or this one's at another hour.
 *
 * @param {string} executablePath
 * @returns {Promise<number>}
 */
export async function millisecondsForSums(executablePath) {
  const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
  const page = await browser.newPage();
  const took = [];
  for (let time = 0; time < 7; time++) took.push(await page.evaluate(sum));
  await browser.close();
  return median(took);
}

/** Runs in the page. */
function sum() {
  const before = performance.now();
  let all = 0;
  for (let each = 0; each < 5e7; each++) all += each % 7;
  Object.assign(globalThis, { all });
  return performance.now() - before;
}

/** @param {readonly number[]} values */
export const median = (values) => [...values].sort((a, b) => a - b)[values.length >> 1] ?? NaN;

/**
 * Milliseconds from the first byte asked for to the first voicing on show; no visit before.
 *
 * @param {string} buildDir @param {string} executablePath @param {number} times
 * @returns {Promise<number[]>}
 */
export function coldStarts(buildDir, executablePath, times) {
  return onSlowDevice(buildDir, executablePath, async (open) => {
    const took = [];
    for (let time = 0; time < times; time++) {
      const page = await open('');
      // asked for seldom: what waits by asking the page at every frame takes its part of the time
      await page.waitForFunction(() => Reflect.get(globalThis, 'voicingAt'), null, {
        polling: 500,
      });
      took.push(await page.evaluate(() => Number(Reflect.get(globalThis, 'voicingAt'))));
      await page.context().close();
    }
    return took;
  });
}

/**
 * Milliseconds between frames while the bar is dragged from end to end.
 *
 * @param {string} buildDir @param {string} executablePath
 * @returns {Promise<number[]>}
 */
export function draggedFrames(buildDir, executablePath) {
  return onSlowDevice(buildDir, executablePath, async (open) => {
    const page = await open('');
    await page.waitForSelector('[data-row]');
    await page.waitForTimeout(1500);
    const bar = await page.getByRole('slider', { name: 'Bar', exact: true }).boundingBox();
    if (bar === null) throw new Error('There is no bar on the page.');
    const y = bar.y + bar.height / 2;
    // sent to the browser itself: Playwright's mouse asks the page at every step while a button is down
    const session = await page.context().newCDPSession(page);
    const mouse = (/** @type {'mousePressed' | 'mouseMoved' | 'mouseReleased'} */ type, x = 0) =>
      session.send('Input.dispatchMouseEvent', {
        ...{ type, x, y, button: 'left', clickCount: 1 },
        buttons: type === 'mouseReleased' ? 0 : 1,
      });
    let at = bar.x + bar.width / 2;
    await mouse('mousePressed', at);
    await page.evaluate(countFrames);
    for (const to of [200, 900, 300, 1000, 250]) {
      const from = at;
      for (let step = 1; step <= 40; step++) {
        at = from + ((to - from) * step) / 40;
        await mouse('mouseMoved', at);
      }
    }
    await mouse('mouseReleased', at);
    return page.evaluate(() => /** @type {any} */ (globalThis).frames);
  });
}

/**
 * Milliseconds between frames while the atlas scrolls.
 *
 * @param {string} buildDir @param {string} executablePath
 * @returns {Promise<number[]>}
 */
export function scrolledFrames(buildDir, executablePath) {
  return onSlowDevice(buildDir, executablePath, async (open) => {
    const page = await open('?view=atlas');
    await page.waitForSelector('[role="gridcell"]');
    await page.waitForTimeout(2000);
    await page.evaluate(countFrames);
    const sheet = await page.locator('[role="grid"]').boundingBox();
    await page.mouse.move((sheet?.x ?? 0) + 200, (sheet?.y ?? 0) + 200);
    for (let step = 0; step < 60; step++) {
      await page.mouse.wheel(0, step < 30 ? 120 : -120);
      await page.waitForTimeout(33);
    }
    return page.evaluate(() => /** @type {any} */ (globalThis).frames);
  });
}

/** Runs in the page: notes the time between frames from now on. */
function countFrames() {
  /** @type {number[]} */
  const frames = [];
  Object.assign(globalThis, { frames });
  let before = performance.now();
  const frame = (/** @type {number} */ now) => {
    frames.push(now - before);
    before = now;
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
}

/**
 * Tasks of the main thread over fifty milliseconds after the page has loaded, while each place works;
 * and the longest by processor time, times four, which does not count what else the machine does.
 *
 * @param {string} buildDir @param {string} executablePath
 * @returns {Promise<{ what: string, tasks: number[], longestOfProcessor: number }[]>}
 */
export function tasksWhileWorking(buildDir, executablePath) {
  return onSlowDevice(buildDir, executablePath, async (open) => {
    /** @type {{ what: string, tasks: number[], longestOfProcessor: number }[]} */
    const found = [];
    /**
     * @param {string} what @param {string} address @param {string} ready
     * @param {(page: import('@playwright/test').Page) => Promise<void>} work
     */
    const watch = async (what, address, ready, work) => {
      const page = await open(address);
      await page.waitForSelector(ready, { timeout: 60_000 });
      await page.waitForTimeout(2000);
      await longTasks(page);
      await work(page);
      const tasks = (await longTasks(page)).filter((ms) => ms > LONG_MS);
      await page.context().close();

      // anew, not slowed down
      const again = await open(address);
      const session = await again.context().newCDPSession(again);
      await session.send('Emulation.setCPUThrottlingRate', { rate: 1 });
      await again.waitForSelector(ready, { timeout: 60_000 });
      await again.waitForTimeout(2000);
      const longest = await longestOfProcessor(again, () => work(again));
      found.push({ what, tasks, longestOfProcessor: SLOWER * longest });
      await again.context().close();
    };
    // by keys, and by selectors that cost nothing: to look for a name asks the page's own thread for
    // all names, and Playwright's mouse asks it what lies where
    await watch('searching', '', '[data-row]', async (page) => {
      for (const chord of ['Am7', 'F', 'C#m7', 'G13']) {
        await page.locator('.ask input').first().fill(chord);
        await page.waitForTimeout(600);
      }
    });
    await watch('suggesting', 'change/?station=RKV', '.run button', async (page) => {
      await page.locator('.run button.main').focus();
      await page.keyboard.press('Enter');
      await page.waitForTimeout(5000);
    });
    await watch('solving', 'arrange/', 'ol > li[data-place]', async (page) => {
      const text = Array.from({ length: 8 }, () => 'G | Em7 | Am7 | D7').join(' | ');
      await page.getByRole('textbox', { name: 'Chords' }).fill(text);
      await page.waitForTimeout(3000);
    });
    return found;
  });
}

/**
 * Megabytes on the script's heap after each tenth of a long use, garbage collected: chords asked for,
 * rows taken, the bar moved, a chord played.
 *
 * @param {string} buildDir @param {string} executablePath
 * @param {number} rounds
 * @returns {Promise<number[]>}
 */
export function heapInUse(buildDir, executablePath, rounds) {
  return onSlowDevice(buildDir, executablePath, async (open) => {
    const page = await open('');
    await page.waitForSelector('[data-row]');
    const session = await page.context().newCDPSession(page);
    await session.send('Emulation.setCPUThrottlingRate', { rate: 1 });
    const chords = ['C', 'Am7', 'F', 'G7', 'C#m7', 'Bb6', 'F#m7b5', 'Dmaj9', 'E7#9', 'Gsus4'];
    const heap = [];
    for (let round = 0; round < rounds; round++) {
      const chord = page.getByRole('textbox', { name: 'Chord' });
      await chord.fill(chords[round % chords.length] ?? 'C');
      await chord.press('Enter');
      await page.waitForTimeout(60);
      await page
        .locator('[data-row]')
        .nth(round % 7)
        .click();
      await page.getByRole('slider', { name: 'Bar', exact: true }).press('ArrowRight');
      await page.keyboard.press('Escape');
      if ((round + 1) % Math.ceil(rounds / 10) === 0) heap.push(await page.evaluate(settledHeap));
    }
    return heap;
  });
}

/** Runs in the page. */
function settledHeap() {
  Reflect.get(globalThis, 'gc')?.();
  return /** @type {any} */ (performance).memory.usedJSHeapSize / 1e6;
}
