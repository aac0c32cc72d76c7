/** A stand-in for the browser's Web MIDI: one keyboard, whose keys a test presses. */
import { type Page } from '@playwright/test';

interface Plugged {
  input: { onmidimessage: ((event: { data: Uint8Array }) => void) | null };
}

/** Plugs in a keyboard called Keys, for all pages that are opened from now on. */
export const plugIn = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    const input = { name: 'Keys', state: 'connected', onmidimessage: null };
    Object.assign(globalThis, { plugged: { input } });
    Object.defineProperty(navigator, 'requestMIDIAccess', {
      value: () =>
        Promise.resolve({
          inputs: new Map([['1', input]]),
          outputs: new Map(),
          onstatechange: null,
        }),
    });
  });

/** Presses keys together, and lets them go. */
export const press = (page: Page, keys: readonly number[]): Promise<void> =>
  page.evaluate((all) => {
    const { input } = (globalThis as unknown as { plugged: Plugged }).plugged;
    for (const status of [0x90, 0x80])
      for (const key of all) input.onmidimessage?.({ data: Uint8Array.from([status, key, 90]) });
  }, keys);
