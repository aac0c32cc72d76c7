/**
 * What a page asks of its audio context, written down as it is asked: strings by what is said to their audio thread,
 * the band by the sources that are started, each with the time at which it is to sound. That is what a listener
 * hears, whatever the page is doing meanwhile.
 */
import type { Page } from '@playwright/test';

export interface Asked {
  /** Seconds of the context's clock: when it is to sound, and when it was asked. */
  readonly at: number;
  readonly now: number;
}
export interface Written {
  readonly strings: Asked[];
  readonly band: Asked[];
}

/** Begins to write down, before the page is opened. */
export async function writeDown(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const written: { strings: object[]; band: object[] } = { strings: [], band: [] };
    Object.assign(globalThis, { written });
    let context: BaseAudioContext | undefined;
    for (const { prototype } of [OscillatorNode, AudioBufferSourceNode]) {
      const start = Reflect.get<AudioScheduledSourceNode, 'start'>(prototype, 'start');
      prototype.start = function (this: AudioScheduledSourceNode, at = 0, offset?: number) {
        context = this.context;
        written.band.push({ at, now: this.context.currentTime });
        Reflect.apply(start, this, offset === undefined ? [at] : [at, offset]);
      };
    }
    const post = Reflect.get(MessagePort.prototype, 'postMessage') as (data: unknown) => void;
    MessagePort.prototype.postMessage = function (this: MessagePort, data: unknown, ...more) {
      const said = data as { say?: string; actions?: { does: string; at: number }[] };
      if (said.say === 'add')
        for (const { does, at } of said.actions ?? [])
          if (does === 'strike') written.strings.push({ at, now: context?.currentTime ?? 0 });
      Reflect.apply(post, this, [data, ...more]);
    };
  });
}

/** What has been asked until now. */
export const written = (page: Page): Promise<Written> =>
  page.evaluate(() => structuredClone((globalThis as unknown as { written: Written }).written));
