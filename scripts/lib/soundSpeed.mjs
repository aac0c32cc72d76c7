// Measures the built page in Chromium: how long from the space bar to the first sound at the outlet.
import { chromium } from '@playwright/test';
import { serveOnFreePort } from './serve.mjs';

const TIMES = 9;

/**
 * Milliseconds from the key to the first sample that is not silence, as the page's own clock and the
 * context's say it: for the first press of a visit, which fetches the instrument, and for later ones,
 * ascending. What the sound card adds is reported beside it.
 *
 * @param {string} buildDir
 * @param {string} executablePath
 */
export async function keyToSound(buildDir, executablePath) {
  const { server, port } = await serveOnFreePort(buildDir, 4380);
  const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
  try {
    const page = await browser.newPage();
    await page.addInitScript(listen);
    await page.goto(`http://127.0.0.1:${port}/`);
    await page.waitForSelector('[data-row]');
    const press = async () => {
      // the page listens before the key goes down; awaited, for the key could overtake it
      await page.evaluate(waitForSound);
      await page.keyboard.press('Space');
      const took = await page.evaluate(
        () => /** @type {Promise<number>} */ (Reflect.get(globalThis, 'heard')),
      );
      await page.keyboard.press('Escape');
      await page.waitForTimeout(600);
      return took;
    };
    const first = await press();
    const later = [];
    for (let time = 0; time < TIMES; time++) later.push(await press());
    const outletMs = await page.evaluate(
      () => 1000 * (Reflect.get(globalThis, 'ear')?.context.outputLatency ?? 0),
    );
    return { first, later: later.sort((a, b) => a - b), outletMs };
  } finally {
    await browser.close();
    server.close();
    server.closeAllConnections();
  }
}

/** Runs in the page, before it. */
function listen() {
  /** @type {(this: AudioNode, to: AudioNode) => AudioNode} */
  const connect = Reflect.get(AudioNode.prototype, 'connect');
  /** @this {AudioNode} @param {any} to */
  AudioNode.prototype.connect = function (to) {
    if (to instanceof AudioDestinationNode) {
      const ear = new AnalyserNode(this.context, { fftSize: 256 });
      connect.call(this, ear);
      Object.assign(globalThis, { ear });
    }
    return /** @type {any} */ (connect.call(this, to));
  };
  addEventListener(
    'keydown',
    () => Object.assign(globalThis, { pressed: performance.now() }),
    true,
  );
}

/** Runs in the page: leaves a promise of the milliseconds there, under `heard`. */
function waitForSound() {
  Object.assign(globalThis, { pressed: undefined });
  const wave = new Float32Array(256);
  const look = () => {
    const ear = Reflect.get(globalThis, 'ear');
    const pressed = Reflect.get(globalThis, 'pressed');
    if (ear === undefined || pressed === undefined) return undefined;
    ear.getFloatTimeDomainData(wave);
    return wave.some((sample) => Math.abs(sample) > 1e-3) ? performance.now() - pressed : undefined;
  };
  const heard = new Promise((done) => {
    const again = () => {
      const took = look();
      if (took === undefined) setTimeout(again, 1);
      else done(took);
    };
    again();
  });
  Object.assign(globalThis, { heard });
}
