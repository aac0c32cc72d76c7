/** An instrument outside that is played along with ours, where one is plugged in; and the clock that both keep. */
import type { Message } from './messages';

/** The same moment by two clocks: what is heard now, in seconds of an audio context, and in ms of the page. */
export interface Moment {
  readonly seconds: number;
  readonly ms: number;
}

/** Takes what the voice says to its instrument, and does the same at the same time. */
export interface Receiver {
  /**
   * @param message its times are in seconds of an audio context
   * @param moment where that context is; asked again as long as something sounds, since clocks drift apart
   */
  take(message: Message, moment: () => Moment): void;
}

/** What is plugged in is so for every place: there is one player, and one such instrument. */
export const plugged: { receiver: Receiver | undefined } = { receiver: undefined };

/** What is heard of a context now. */
export function momentOf(context: AudioContext): Moment {
  const { contextTime, performanceTime } = context.getOutputTimestamp?.() ?? {};
  // a context that has just begun knows nothing yet
  if (contextTime !== undefined && performanceTime !== undefined && performanceTime > 0)
    return { seconds: contextTime, ms: performanceTime };
  const { currentTime, outputLatency, baseLatency } = context;
  return { seconds: currentTime - (outputLatency || baseLatency || 0), ms: performance.now() };
}
