/** What a MIDI keyboard sends, as far as notes go (MIDI 1.0, channel voice messages). */
import type { Midi } from '$lib/theory/pitch';

/** A key that goes down or up. */
export interface KeyMove {
  readonly midi: Midi;
  readonly isDown: boolean;
  /** How fast the key went down, 0 to 1; 0 where it goes up. */
  readonly velocity: number;
  /** The channel it came on, 1 to 16. */
  readonly channel: number;
}

const NOTE_OFF = 0x80;
const NOTE_ON = 0x90;

/** Reads a message; `undefined` where it is about no key. A key that goes down with velocity 0 goes up, as the standard has it. */
export function readMessage(data: ArrayLike<number>): KeyMove | undefined {
  const [status = 0, key, speed = 0] = [data[0], data[1], data[2]];
  const kind = status & 0xf0;
  if ((kind !== NOTE_ON && kind !== NOTE_OFF) || key === undefined || key > 127) return undefined;
  const isDown = kind === NOTE_ON && speed > 0;
  return { midi: key, isDown, velocity: isDown ? speed / 127 : 0, channel: (status & 0x0f) + 1 };
}
