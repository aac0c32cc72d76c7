/**
 * The transport of `tone` on our own audio context. Its modules are imported one by one: the whole would make
 * a context of its own, with a clock in a worker that the site's own rules forbid.
 */
import './silence';
import { TransportInstance } from 'tone/build/esm/core/clock/Transport.js';
import { Context } from 'tone/build/esm/core/context/Context.js';
import { setContext } from 'tone/build/esm/core/Global.js';

/**
 * Seconds by which everything is handed over before it sounds. While something plays, a page that is kept busy for
 * so long misses nothing, and a changed tempo is heard so much later; at the start the player waits for it.
 */
const AHEAD = { starting: 0.12, playing: 0.35 } as const;
/** Seconds between two looks at what is to be handed over. */
const EVERY = 0.05;

/** How far ahead a clock looks from now on. */
export function lookAhead({ tone }: Clock, how: keyof typeof AHEAD): void {
  tone.lookAhead = AHEAD[how];
  // the library sets it along
  tone.updateInterval = EVERY;
}

/** A context of the library's, around one of ours, and its transport. */
export interface Clock {
  readonly context: AudioContext;
  readonly tone: Context;
  readonly transport: TransportInstance;
}

/**
 * A clock of an audio context, which is from now on the one that the library speaks of: the one of `before` where it
 * is of that context, for the library looks after each that was made as long as the context lives.
 */
export function clockOn(context: AudioContext, before?: Clock): Clock {
  const clock = before?.context === context ? before : madeOn(context);
  setContext(clock.tone);
  return clock;
}

function madeOn(context: AudioContext): Clock {
  const tone = new Context({
    context,
    clockSource: 'timeout',
    lookAhead: AHEAD.starting,
    updateInterval: EVERY,
  });
  // even what is given a context asks for this one, and would make it
  setContext(tone);
  const { transport } = tone;
  if (!(transport instanceof TransportInstance)) throw new Error('the context has no transport');
  return { context, tone, transport };
}
