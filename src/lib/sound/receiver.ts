/** An instrument outside that is played along with ours, where one is plugged in. */
import type { Message } from './messages';

/** Takes what the voice says to its instrument, and does the same at the same time. */
export interface Receiver {
  /**
   * @param message its times are in seconds of an audio context
   * @param context whose clock they are of
   */
  take(message: Message, context: AudioContext): void;
}

/** What is plugged in is so for every place: there is one player, and one such instrument. */
export const plugged: { receiver: Receiver | undefined } = { receiver: undefined };
