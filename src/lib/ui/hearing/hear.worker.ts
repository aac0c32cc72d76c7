/** Hears grips off the page's thread; all it does is in `hearing/hear.ts`. */
import { hearGrip } from '$lib/hearing/hear';
import type { HearRequest } from './ear';

self.onmessage = ({ data }: MessageEvent<HearRequest>) => {
  const { samples, sampleRate, expected, referenceHz } = data;
  self.postMessage(hearGrip(samples, sampleRate, expected, referenceHz));
};
