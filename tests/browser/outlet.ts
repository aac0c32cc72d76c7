/** What is heard at the outlet of the page's own audio context. */
import { PitchDetector } from 'pitchy';
import { type Page } from '@playwright/test';

/** Puts an ear where the page connects itself to the speaker. */
export async function listen(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const connect = Reflect.get(AudioNode.prototype, 'connect') as (
      this: AudioNode,
      to: AudioNode,
    ) => AudioNode;
    const listening = function (this: AudioNode, to: AudioNode): AudioNode {
      if (to instanceof AudioDestinationNode) {
        // one for all that a context sends to the speaker
        const { ear: before } = globalThis as unknown as { ear?: AnalyserNode };
        const ear =
          before?.context === this.context
            ? before
            : new AnalyserNode(this.context, { fftSize: 8192 });
        connect.call(this, ear);
        Object.assign(globalThis, { ear });
      }
      return connect.call(this, to);
    };
    Object.assign(AudioNode.prototype, { connect: listening });
  });
}

export interface Heard {
  readonly hz: number;
  readonly loudness: number;
}

/** What the ear hears at this moment: nothing before the first sound. */
export async function heard(page: Page): Promise<Heard> {
  const { wave, rate } = await page.evaluate(() => {
    const { ear } = globalThis as unknown as { ear?: AnalyserNode };
    const samples = new Float32Array(8192);
    ear?.getFloatTimeDomainData(samples);
    return { wave: [...samples], rate: ear?.context.sampleRate ?? 48_000 };
  });
  const [hz] = PitchDetector.forNumberArray(8192).findPitch(wave, rate);
  return { hz, loudness: Math.max(...wave.map(Math.abs)) };
}
